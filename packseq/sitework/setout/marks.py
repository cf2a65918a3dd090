"""Where lines must lie: off the faces of the external walls, and the fewest for the internal ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.sitework.setout.model import Choices
from packseq.sitework.walls import Wall

APART_MM = 60.0
"""Two lines closer than this get mixed up: the second wall is measured off the first line instead."""

_BESIDE_MM = 20.0
"""A line this close to a plate, or under it, cannot be read once the plate is down."""

_NOISE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Band:
    """What a wall covers across a family of parallel lines: from `low_mm` to `high_mm` along its normal."""

    wall: Wall
    low_mm: float
    high_mm: float
    inner_mm: float | None = None

    def off_mm(self, at_mm: float) -> float:
        """Return how far a line lies from the nearer face; below 0 under the plate."""
        return max(self.low_mm - at_mm, at_mm - self.high_mm)


@dataclass(frozen=True, slots=True)
class Mark:
    """A line of a family: where it lies along the normal, and the walls set out from it."""

    at_mm: float
    walls: tuple[Wall, ...]


def band(wall: Wall, origin: Point, normal: Point) -> Band:
    """Return the band of a wall, measured from an origin along the normal of its family."""

    def along(point: Point) -> float:
        return (point[0] - origin[0]) * normal[0] + (point[1] - origin[1]) * normal[1]

    def face_mm(*, left: bool) -> float:
        start, end = wall.face(left=left)
        return (along(start) + along(end)) / 2

    left, right = face_mm(left=True), face_mm(left=False)
    inner = left if wall.location == "external" else None
    return Band(wall, min(left, right), max(left, right), inner)


def marks_for(bands: Sequence[Band], choices: Choices) -> tuple[Mark, ...]:
    """Return the lines of one family: one for each external wall (in one line: shared), then the fewest more.

    An external wall has its line `offset_mm` off its inner face. An internal wall needs a line, on
    either side, no further than `reach_mm` from its nearer face and not under it. The lines
    added for those that have none lie `offset_mm` off a face of one of them and are as few as can be: of the
    walls not served yet, the one whose reach ends first is served by the furthest line that still
    reaches it, and so on. Each wall is set out from the line nearest to it.
    """
    places: list[float] = []
    for each in bands:
        if each.inner_mm is not None:
            at_mm = _inward(each, choices.offset_mm)
            if all(abs(at_mm - other) > APART_MM for other in places):
                places.append(at_mm)
    inner = [each for each in bands if each.inner_mm is None]
    possible = _possible(inner, bands, choices.offset_mm)
    waiting = sorted(inner, key=lambda each: (each.high_mm, each.low_mm, each.wall.name))
    for each in waiting:
        if not any(_reaches(at_mm, each, choices) for at_mm in places):
            places.append(max(at_mm for at_mm in possible if _reaches(at_mm, each, choices)))
    return tuple(_assigned(sorted(places), bands, choices))


def _inward(each: Band, offset_mm: float) -> float:
    """Return where the line off an external wall's inner face lies."""
    return each.low_mm - offset_mm if each.inner_mm == each.low_mm else each.high_mm + offset_mm


def _reaches(at_mm: float, each: Band, choices: Choices) -> bool:
    return 0 < each.off_mm(at_mm) <= max(choices.reach_mm, choices.offset_mm) + _NOISE_MM


def _possible(inner: Iterable[Band], bands: Sequence[Band], offset_mm: float) -> list[float]:
    """Return where lines for internal walls may lie: beside one of them and under no wall, if that can be."""
    possible: list[float] = []
    for each in inner:
        sides = (each.low_mm - offset_mm, each.high_mm + offset_mm)
        clear = [at for at in sides if all(other.off_mm(at) >= _BESIDE_MM for other in bands)]
        possible += clear or sides
    return possible


def _assigned(places: Sequence[float], bands: Sequence[Band], choices: Choices) -> Iterable[Mark]:
    """Yield the lines with the walls that each serves: for an external wall its own, else the nearest."""
    nearest = [_nearest(places, each, choices) for each in bands]
    for at_mm in places:
        walls = tuple(each.wall for each, own in zip(bands, nearest, strict=True) if own == at_mm)
        if walls:
            yield Mark(at_mm, walls)


def _nearest(places: Sequence[float], each: Band, choices: Choices) -> float:
    """Return the line that a wall is set out from."""
    if each.inner_mm is not None:
        wanted_mm = _inward(each, choices.offset_mm)
        return min(places, key=lambda at_mm: abs(at_mm - wanted_mm))
    clear = [at_mm for at_mm in places if each.off_mm(at_mm) > 0]
    return min(clear, key=each.off_mm)
