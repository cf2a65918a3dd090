"""Which openings let a team through, and what of a frame is left to block it."""

from __future__ import annotations

from collections.abc import Iterable

from shapely import Polygon

from packseq.geometry import Point, strip
from packseq.routes.tilt import fits
from packseq.scenario.model import Frame, Opening

EMPTY_WIDTH_MM = 600.0
EMPTY_HEAD_MM = 1900.0
"""Least clear opening for an empty-handed team (docs/rules.md, routes and walking)."""

Passing = frozenset[tuple[str, int]]
"""Openings that let a team through: the frame's name and the opening's position in `Frame.openings`."""


def lets_empty(opening: Opening) -> bool:
    """Tell whether an empty-handed team walks through an opening."""
    return opening.sill_mm <= 0 and opening.width_mm >= EMPTY_WIDTH_MM and opening.head_mm >= EMPTY_HEAD_MM


def lets_carried(opening: Opening, carried: Frame, clearance_mm: float) -> bool:
    """Tell whether a carried frame passes an opening upright or tilted, with clearance on both sides."""
    if opening.sill_mm > 0:
        return False
    clear_mm = opening.width_mm - 2 * clearance_mm
    return fits(carried.height_mm, carried.thickness_mm, clear_mm, opening.head_mm)


def passing(frames: Iterable[Frame], carried: Frame | None, clearance_mm: float) -> Passing:
    """Return the openings of `frames` that let the team through, empty-handed when `carried` is None."""
    return frozenset(
        (frame.name, number)
        for frame in frames
        for number, opening in enumerate(frame.openings)
        if (lets_empty(opening) if carried is None else lets_carried(opening, carried, clearance_mm))
    )


def solid_parts(frame: Frame, through: Passing) -> tuple[Polygon, ...]:
    """Return what a standing frame blocks: its footprint without the openings that let the team through."""
    spans = sorted(
        (opening.from_mm, opening.from_mm + opening.width_mm)
        for number, opening in enumerate(frame.openings)
        if (frame.name, number) in through
    )
    parts = []
    reached_mm = 0.0
    for near_mm, far_mm in (*spans, (frame.length_mm, frame.length_mm)):
        if near_mm > reached_mm:
            parts.append(
                Polygon(strip(_along(frame, reached_mm), _along(frame, near_mm), frame.thickness_mm))
            )
        reached_mm = max(reached_mm, far_mm)
    return tuple(parts)


def _along(frame: Frame, distance_mm: float) -> Point:
    """Return the point of the centre line at a distance from end 1; exact at both ends."""
    if distance_mm >= frame.length_mm:
        return frame.end
    share = distance_mm / frame.length_mm
    return (
        frame.start[0] + share * (frame.end[0] - frame.start[0]),
        frame.start[1] + share * (frame.end[1] - frame.start[1]),
    )
