"""Walls drawn into one another, as models often have them, brought to butt like frames."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from shapely import Polygon

from packseq.entry.ifc.pieces import LEAST_SINE, clear_of, piece
from packseq.entry.ifc.walls import ModelWall
from packseq.geometry import strip

_SLIVER_MM = 5.0
_SLACK_MM = 5.0


@dataclass(frozen=True, slots=True)
class Butted:
    """Walls that no longer lie in one another; notes and reasons by the walls' numbers in the model."""

    walls: tuple[ModelWall, ...]
    notes: Mapping[int, tuple[str, ...]]
    dropped: Mapping[int, str]


@dataclass(frozen=True, slots=True)
class _Meeting:
    """Where two walls' lines cross: how far along each, and the end that lies there (None: along it)."""

    places: tuple[float, float]
    ends: tuple[str | None, str | None]
    sine: float


def overlapping(first: ModelWall, second: ModelWall) -> bool:
    """Tell whether two walls lie in one another on the plan, by more than drawing tolerance."""
    if clear_of(first, second):
        return False
    shared = _outline(first).intersection(_outline(second))
    return not shared.buffer(-_SLIVER_MM / 2).is_empty


def butted(walls: Sequence[ModelWall]) -> Butted:
    """Return walls cut back where they lie in one another.

    At a corner the longer wall runs through and the other butts against it. Where a wall ends in
    the side of another it is cut back to its face. Where two cross, the shorter is cut in two.
    Of two that lie on one another the shorter is dropped. Framed panels are left as they are.
    """
    now = list(walls)
    notes: defaultdict[int, list[str]] = defaultdict(list)
    dropped: dict[int, str] = {}
    pairs = [pair for pair in combinations(range(len(now)), 2) if overlapping(now[pair[0]], now[pair[1]])]
    for one, other in pairs:
        first, second = now[one], now[other]
        if {first.key, second.key} & set(dropped):
            continue
        if first.framed or second.framed:
            notes[second.key].append(f"lies in {first.called}; framed panels are left as they are")
            continue
        meeting = _meeting(first, second)
        if meeting is None:
            shorter, longer = sorted((first, second), key=lambda wall: wall.length_mm)
            dropped[shorter.key] = f"it lies on {longer.called}"
            continue
        if meeting.ends == (None, None):
            continue
        now[one], now[other] = _cut_back(first, second, meeting)
    crossed = tuple(_crossed([wall for wall in now if wall.key not in dropped], notes))
    return Butted(crossed, {key: tuple(lines) for key, lines in notes.items()}, dropped)


def _cut_back(first: ModelWall, second: ModelWall, meeting: _Meeting) -> tuple[ModelWall, ModelWall]:
    """Return two walls that meet at the end of one or both, cut back or let out so that they butt."""
    (here, there), (first_end, second_end) = meeting.places, meeting.ends
    first_half, second_half = first.thickness_mm / 2 / meeting.sine, second.thickness_mm / 2 / meeting.sine
    if first_end and second_end:
        first_through = (first.length_mm, second.called) >= (second.length_mm, first.called)
        return (
            _ending(first, first_end, here, second_half if first_through else -second_half),
            _ending(second, second_end, there, -first_half if first_through else first_half),
        )
    if first_end:
        return _ending(first, first_end, here, -second_half), second
    return first, _ending(second, second_end or "finish", there, -first_half)


def _ending(wall: ModelWall, end: str, place_mm: float, beyond_mm: float) -> ModelWall:
    """Return a wall that ends so far beyond a place along it (before it, if less than 0)."""
    if end == "start":
        return piece(wall, place_mm - beyond_mm, wall.length_mm)
    return piece(wall, 0.0, place_mm + beyond_mm)


def _meeting(first: ModelWall, second: ModelWall) -> _Meeting | None:
    """Return where two walls' lines cross, or None where they lie along one another."""
    (x1, y1), (x2, y2) = first.start, second.start
    u, v = _along(first), _along(second)
    sine = u[0] * v[1] - u[1] * v[0]
    if abs(sine) < LEAST_SINE:
        return None
    here = ((x2 - x1) * v[1] - (y2 - y1) * v[0]) / sine
    there = ((x2 - x1) * u[1] - (y2 - y1) * u[0]) / sine
    return _Meeting(
        (here, there),
        (_end(first, second, here, abs(sine)), _end(second, first, there, abs(sine))),
        abs(sine),
    )


def _end(wall: ModelWall, other: ModelWall, place_mm: float, sine: float) -> str | None:
    reach_mm = other.thickness_mm / 2 / sine + _SLACK_MM
    if place_mm <= reach_mm:
        return "start"
    return "finish" if wall.length_mm - place_mm <= reach_mm else None


def _crossed(walls: Sequence[ModelWall], notes: Mapping[int, list[str]]) -> Iterator[ModelWall]:
    """Yield walls, each that crosses a longer one in pieces either side of it."""
    for wall in walls:
        cuts = []
        for other in walls:
            longer = (other.length_mm, other.called) > (wall.length_mm, wall.called)
            if other is wall or wall.framed or not longer or not overlapping(wall, other):
                continue
            meeting = _meeting(wall, other)
            if meeting is not None and meeting.ends == (None, None):
                half = other.thickness_mm / 2 / meeting.sine
                cuts.append((meeting.places[0] - half, meeting.places[0] + half))
                notes[wall.key].append(f"crosses {other.called}: cut in two there")
        begin = 0.0
        for before, after in sorted(cuts):
            yield piece(wall, begin, before)
            begin = after
        yield piece(wall, begin, wall.length_mm) if cuts else wall


def _along(wall: ModelWall) -> tuple[float, float]:
    return (
        (wall.end[0] - wall.start[0]) / wall.length_mm,
        (wall.end[1] - wall.start[1]) / wall.length_mm,
    )


def _outline(wall: ModelWall) -> Polygon:
    if math.dist(wall.start, wall.end) == 0:
        return Polygon()
    return Polygon(strip(wall.start, wall.end, wall.thickness_mm))
