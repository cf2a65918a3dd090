"""On which lines the place of each further line is marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from packseq.geometry import Point
from packseq.sitework.setout.floor import Floor
from packseq.sitework.setout.model import GridLine

_FIRST: dict[str, tuple[int, ...]] = {"reference": (), "square": (1,), "closing": (2, 3)}


def marked_lines(lines: Iterable[GridLine], floor: Floor) -> Iterator[GridLine]:
    """Yield the lines with the ones that they are marked on.

    The reference line is marked off the slab, the two square to it are squared at their marks on
    it, the closing line is marked on those two. Each further line is marked on two lines of
    external walls that cross it on the floor: the nearest at or beyond each end of its stretch.
    """
    before: list[GridLine] = []
    for line in lines:
        first = _FIRST.get(line.role)
        yield replace(line, marked_on=_crossed(line, before, floor) if first is None else first)
        if line.role != "internal" and line.running_mm is not None:
            before.append(line)


def _crossed(line: GridLine, before: Iterable[GridLine], floor: Floor) -> tuple[int, ...]:
    crossings = [
        (_along_mm(line, at), other.number)
        for other in before
        if (at := line.crossing(other)) is not None and floor.holds(at)
    ]
    if not crossings:
        return ()
    length_mm = _along_mm(line, line.end)
    first = min(crossings, key=lambda each: (_outside(-each[0]), each[1]))
    others = [each for each in crossings if each != first]
    last = min(others, key=lambda each: (_outside(each[0] - length_mm), each[1]), default=first)
    return tuple(sorted({first[1], last[1]}))


def _along_mm(line: GridLine, point: Point) -> float:
    """Return how far along a line a point lies, in mm from its start."""
    (ux, uy), (x, y) = line.along_unit, line.start
    return (point[0] - x) * ux + (point[1] - y) * uy


def _outside(beyond_mm: float) -> tuple[bool, float]:
    """Sort key: crossings at or beyond an end first, the nearest one foremost."""
    return (beyond_mm < 0, abs(beyond_mm))
