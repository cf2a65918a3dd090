"""The outside of a level, and which frames stand on it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from shapely import LinearRing, MultiLineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from packseq.geometry import Point, strip
from packseq.house.joins import contact_end
from packseq.house.model import Join
from packseq.house.shapes import long_sides, polygon
from packseq.scenario.model import Frame, Location

_ON_RING_MM = 2.0
"""A side this close to the outside of the building lies on it: drawing tolerance."""

_BRIDGE_EXTRA_MM = 1.0
"""Added to the join gap when footprints are let out and taken in again to close the joins."""

_NOISE_MM2 = 1.0

_GOOD_PART = 0.5
_GOOD_PART_MM = 600.0
"""A frame is external when half a long side faces outdoors, or 600 mm of one that carries on inside."""


class Exposure(NamedTuple):
    """How much of a frame's more exposed long side faces outdoors, and the middle of its longest piece."""

    length_mm: float
    at: Point


def outside(
    frames: Sequence[Frame], bridges: Iterable[tuple[Frame, Frame]], join_gap_mm: float
) -> MultiLineString:
    """Return the outer boundary of a level, one anticlockwise ring for each building part that stands apart.

    The frames' footprints are joined into one shape: gaps up to the join gap close by
    letting the footprints out by half of it and taking them in again with square
    corners, `bridges` by a strip between the nearest ends of the two frames. Courtyards
    and rooms fall away: only the exteriors are kept.
    """
    let_out = (join_gap_mm + _BRIDGE_EXTRA_MM) / 2
    strips = [bridge for pair in bridges if (bridge := _bridge(*pair)) is not None]
    closed = (
        unary_union([*map(polygon, frames), *strips])
        .buffer(let_out, join_style="mitre")
        .buffer(-let_out, join_style="mitre")
    )
    filled = unary_union([Polygon(ring) for ring in _exteriors(closed)])
    return MultiLineString(_exteriors(filled))


def closing(
    frames: Sequence[Frame], bridges: Sequence[tuple[Frame, Frame]], join_gap_mm: float
) -> list[tuple[Frame, Frame]]:
    """Return the bridges without which the level encloses less, by more than the bridge's own strip.

    A gap declared where a wall stands already closes nothing; its strip would only hide that wall.
    """
    whole = _enclosed_mm2(outside(frames, bridges, join_gap_mm))
    needed = []
    for place, pair in enumerate(bridges):
        others = [*bridges[:place], *bridges[place + 1 :]]
        strip_of_pair = _bridge(*pair)
        lost = whole - _enclosed_mm2(outside(frames, others, join_gap_mm))
        if strip_of_pair is not None and lost > strip_of_pair.area + _NOISE_MM2:
            needed.append(pair)
    return needed


def exposure(frame: Frame, boundary: MultiLineString) -> Exposure | None:
    """Return how far a frame's long sides lie on the outer boundary, or None when neither does."""
    # Only the stretch beside the frame is let out: letting out the whole of it for every frame takes long.
    beside = boundary.intersection(polygon(frame).buffer(2 * _ON_RING_MM, join_style="mitre"))
    near = beside.buffer(_ON_RING_MM)
    pieces = [
        [piece for piece in _parts(side.intersection(near)) if piece.length] for side in long_sides(frame)
    ]
    most = max(pieces, key=lambda side: math.fsum(piece.length for piece in side))
    if not most:
        return None
    middle = max(most, key=lambda piece: piece.length).interpolate(0.5, normalized=True)
    return Exposure(
        length_mm=math.fsum(piece.length for piece in most),
        at=(middle.x, middle.y),
    )


def locate(frames: Sequence[Frame], boundary: MultiLineString) -> dict[str, Location]:
    """Return each frame's location: as given, or else derived from the outer boundary.

    A frame is external when a good part of one of its long sides lies on the boundary:
    half of it, or 600 mm (a through frame that begins outdoors and carries on as an
    internal wall belongs to the perimeter).
    """
    locations: dict[str, Location] = {}
    for frame in frames:
        if frame.location is not None:
            locations[frame.name] = frame.location
            continue
        shown = exposure(frame, boundary)
        outdoors = shown is not None and shown.length_mm >= _good_part_mm(frame)
        locations[frame.name] = "external" if outdoors else "internal"
    return locations


def free_ends(
    frames: Mapping[str, Frame], joins: Sequence[Join], join_gap_mm: float
) -> list[tuple[Frame, Point]]:
    """Return the ends of frames that nothing touches, in the order of the frames."""
    met = set()
    for join in joins:
        for name, other in (join.frames, join.frames[::-1]):
            met.add((name, contact_end(frames[name], frames[other], join.at, join_gap_mm)))
    return [
        (frame, point)
        for frame in frames.values()
        for end, point in (("start", frame.start), ("end", frame.end))
        if (frame.name, end) not in met
    ]


def likely_bridges(ends: Sequence[tuple[Frame, Point]]) -> list[tuple[Frame, Frame]]:
    """Return where an open perimeter was most likely meant to close: each free end to the next nearest.

    An open perimeter lets outdoors into the rooms, and every frame then faces it. To say
    where the opening is, and no more, the level is looked at as if it were closed.
    """
    pairs = []
    for frame, point in ends:
        others = [
            (math.dist(point, end), other.name, other) for other, end in ends if other.name != frame.name
        ]
        if others:
            pairs.append((frame, min(others, key=lambda entry: entry[:2])[2]))
    return pairs


def _enclosed_mm2(boundary: MultiLineString) -> float:
    return math.fsum(Polygon(ring).area for ring in boundary.geoms)


def _good_part_mm(frame: Frame) -> float:
    return min(_GOOD_PART * frame.length_mm, _GOOD_PART_MM) - _ON_RING_MM


def _bridge(first: Frame, second: Frame) -> Polygon | None:
    """Return the strip between two frames' nearest ends, as wide as the thinner, or None when they meet."""
    ends = product((first.start, first.end), (second.start, second.end))
    start, end = min(ends, key=lambda pair: math.dist(*pair))
    width = min(first.thickness_mm, second.thickness_mm)
    return Polygon(strip(start, end, width)) if math.dist(start, end) > _ON_RING_MM else None


def _exteriors(shape: BaseGeometry) -> list[LinearRing]:
    """Return the exterior of each polygon in a shape, anticlockwise."""
    return [orient(part).exterior for part in _parts(shape) if isinstance(part, Polygon)]


def _parts(shape: BaseGeometry) -> list[BaseGeometry]:
    """Return the single parts of a shape."""
    return [part for part in getattr(shape, "geoms", [shape]) if not part.is_empty]
