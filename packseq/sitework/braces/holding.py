"""What holds a frame up as it is stood: walls across it, and the braces of frames it carries on from."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.house.model import House
from packseq.house.shapes import along_mm, angle_between_deg
from packseq.scenario.model import Frame
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.braces.spacing import Wanted

RETURN_DEG = 30.0
"""A wall at less than this with another does not hold it: common practice, no source."""

FIRST_CORNER_MM = 1200.0
"""Both walls of the first corner have a brace within this of it: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Hold:
    """Something that holds a frame: where, in mm from its end 1, and in words."""

    at_mm: float
    words: str


Braced = Mapping[str, Sequence[float]]
"""For each frame, where its own braces hold it, in mm from its end 1."""


def holds(
    house: House, frame: Frame, standing: Collection[str], braced: Braced, choices: BraceChoices
) -> tuple[Hold, ...]:
    """Return what holds a frame as it is stood, in order from its end 1.

    A standing frame that meets it at an angle, and is long enough, holds it there. One that it carries on
    from inline holds it as far as that frame's own braces and returns are near the joint.
    """
    found = []
    for other, at, inline in _joined(house, frame, standing):
        if not inline:
            if other.length_mm >= choices.least_return_mm:
                found.append(Hold(_clamped(frame, at), f"{other.name}, a wall across it"))
            continue
        across = [_clamped(other, there) for _, there, line in _joined(house, other, standing) if not line]
        nearest = _held_near(other, at, [*braced.get(other.name, ()), *across], choices.from_end_mm)
        if nearest is not None:
            joint = _clamped(frame, at)
            past = -nearest if joint < frame.length_mm / 2 else nearest
            found.append(Hold(joint + past, f"{other.name}, braced near their joint"))
    return tuple(sorted(found, key=lambda hold: (hold.at_mm, hold.words)))


def first_corner(
    house: House, frame: Frame, standing: Collection[str], braced: Braced
) -> tuple[tuple[Frame, Wanted], ...]:
    """Return the braces that the first corner of a level still wants on its two walls.

    Nothing unless this frame makes that corner. `braced` counts the frame's own braces in.
    """
    perimeter = frozenset(house.level_of[frame.name].perimeter)
    corners = [
        (other, at)
        for other, at, inline in _joined(house, frame, standing)
        if not inline and frame.name in perimeter and other.name in perimeter
    ]
    if not corners or _has_corner(house, perimeter & frozenset(standing), standing):
        return ()
    other, at = corners[0]
    return tuple(
        (wall, _at_corner(wall, at))
        for wall in (other, frame)
        if not any(abs(place - _clamped(wall, at)) <= FIRST_CORNER_MM for place in braced.get(wall.name, ()))
    )


def _at_corner(wall: Frame, at: Point) -> Wanted:
    corner, reach = _clamped(wall, at), min(FIRST_CORNER_MM, wall.length_mm)
    inward = 1 if corner < wall.length_mm / 2 else -1
    near, far = sorted((corner, corner + inward * reach))
    return Wanted(corner + inward * reach / 2, near, far, "first corner")


def _has_corner(house: House, names: Collection[str], standing: Collection[str]) -> bool:
    frames = house.scenario.frames
    return any(
        other.name in names and not inline
        for name in sorted(names)
        for other, _, inline in _joined(house, frames[name], standing)
    )


def _held_near(frame: Frame, joint: Point, places: Collection[float], most_mm: float) -> float | None:
    """Return how far from a joint the nearest place is that holds a frame; None: not near it."""
    distances = [abs(place - _clamped(frame, joint)) for place in places]
    return min((each for each in distances if each <= most_mm), default=None)


def _joined(house: House, frame: Frame, standing: Collection[str]) -> Iterator[tuple[Frame, Point, bool]]:
    """Yield each standing frame that a frame is joined to, where, and whether it is nearly in line."""
    for join in house.joins:
        if frame.name in join.frames:
            name = join.frames[0] if join.frames[1] == frame.name else join.frames[1]
            if name in standing:
                other = house.scenario.frames[name]
                yield other, join.at, angle_between_deg(frame, other) < RETURN_DEG


def _clamped(frame: Frame, at: Point) -> float:
    return min(max(along_mm(frame, at), 0.0), frame.length_mm)
