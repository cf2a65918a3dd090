"""Internal walls set parallel: the dimension from a plate already set to each internal plate."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import Point as Dot

from packseq.geometry import Point, strip
from packseq.sitework.tape import compass
from packseq.sitework.walls import Wall

FROM_END_MM = 300.0
"""A wall is measured this far from its ends, or a quarter of its length: common practice, no source."""

ONE_WAY_DEG = 0.1
"""Walls within this have one direction, as the frames of a run do (docs/rules.md)."""

FURTHEST_MM = 100_000.0


@dataclass(frozen=True, slots=True)
class Taped:
    """One dimension: from which wall, at which end of the wall that is set, and how long it must be."""

    start_wall: str
    at_end: str
    mm: float


@dataclass(frozen=True, slots=True)
class Parallel:
    """An internal wall and the two dimensions that set it; fewer where nothing parallel is in view."""

    wall: Wall
    taped: tuple[Taped, ...]


@dataclass(frozen=True, slots=True)
class _View:
    """What a tape square out from one face meets at the two places; None where no parallel wall."""

    hits: tuple[tuple[str, float] | None, tuple[str, float] | None]

    def rank(self, known: Mapping[str, bool]) -> tuple[int, bool, float] | None:
        """Return how good the view is: two dimensions before one, off the perimeter before internal walls.

        None where nothing set already is in view. `known` tells of each wall set whether it is external.
        """
        usable = self.usable(known)
        if not usable:
            return None
        inner = any(not known[name] for name, _ in usable)
        return (-len(usable), inner, sum(mm for _, mm in usable))

    def usable(self, known: Mapping[str, bool]) -> list[tuple[str, float]]:
        """Return the hits on walls that are set already."""
        return [hit for hit in self.hits if hit is not None and hit[0] in known]


def set_parallels(walls: Sequence[Wall]) -> tuple[Parallel, ...]:
    """Return the internal walls of a level in the order in which they are set, each with its dimensions.

    The perimeter is set first. An internal wall is measured square across from a parallel wall that is set
    already, with nothing in between: off the perimeter where that can be, else off an internal wall
    that was itself measured. Faces are measured, not centre lines. A wall with none in view comes
    last, without dimensions: it is set off its line on the slab.
    """
    known = {wall.name: True for wall in walls if wall.location == "external"}
    waiting = [wall for wall in walls if wall.location == "internal"]
    views = {wall.name: (_view(wall, walls, left=True), _view(wall, walls, left=False)) for wall in waiting}
    done: list[Parallel] = []
    while waiting:
        ranked = [
            (rank, place, view)
            for place, wall in enumerate(waiting)
            for view in views[wall.name]
            if (rank := view.rank(known)) is not None
        ]
        if not ranked:
            done += [Parallel(wall, ()) for wall in waiting]
            break
        _, place, view = min(ranked, key=lambda each: (each[0], each[1]))
        wall = waiting.pop(place)
        done.append(Parallel(wall, tuple(_taped(wall, view, known))))
        known[wall.name] = False
    return tuple(done)


def _taped(wall: Wall, view: _View, known: Mapping[str, bool]) -> Iterator[Taped]:
    ends = (compass(wall.end, wall.start), compass(wall.start, wall.end))
    for end, hit in zip(ends, view.hits, strict=True):
        if hit is not None and hit[0] in known:
            yield Taped(hit[0], f"{end} end", hit[1])


def _view(wall: Wall, walls: Sequence[Wall], *, left: bool) -> _View:
    inset = min(FROM_END_MM, wall.length_mm / 4)
    start, _ = wall.face(left=left)
    out = wall.left if left else (-wall.left[0], -wall.left[1])
    first, second = (
        _met(wall, (start[0] + wall.along[0] * at, start[1] + wall.along[1] * at), out, walls)
        for at in (inset, wall.length_mm - inset)
    )
    return _View((first, second))


def _met(wall: Wall, start: Point, out: Point, walls: Sequence[Wall]) -> tuple[str, float] | None:
    """Return the first wall that a tape square out from a point meets, if parallel, and how far off it is."""
    tape = LineString((start, (start[0] + out[0] * FURTHEST_MM, start[1] + out[1] * FURTHEST_MM)))
    met = []
    for other in walls:
        if other.name != wall.name:
            shared = tape.intersection(Polygon(strip(other.start, other.end, other.thickness_mm)))
            if not shared.is_empty:
                met.append((float(Dot(start).distance(shared)), other.name, _one_way(wall, other)))
    if not met:
        return None
    distance, name, parallel = min(met)
    return (name, distance) if parallel else None


def _one_way(first: Wall, second: Wall) -> bool:
    turn = abs(first.along[0] * second.along[1] - first.along[1] * second.along[0])
    return turn <= math.sin(math.radians(ONE_WAY_DEG)) + 1e-9
