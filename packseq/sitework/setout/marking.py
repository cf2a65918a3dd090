"""The order of marking, and on which lines the place of each further line is marked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from packseq.geometry import Point
from packseq.sitework.setout.floor import Floor
from packseq.sitework.setout.model import GridLine

_FIRST: dict[str, tuple[int, ...]] = {"reference": (), "square": (1,), "closing": (2, 3)}
_ENOUGH = 2


def marked_lines(lines: Iterable[GridLine], floor: Floor) -> tuple[GridLine, ...]:
    """Return the lines numbered in the order of marking, with the ones that each is marked on.

    The reference line is marked off the slab, the two square to it are squared at their marks on
    it, the closing line is marked on those two. Each further line is marked on two lines of
    external walls that cross it on the floor: the nearest at or beyond each end of its stretch. One that
    too few lines cross waits until others are marked; if that does not help it has fewer marks.

    Parameters
    ----------
    lines
        The lines in the order wanted: reference, square, closing, external, internal. Their numbers do not
        matter.
    floor
        What a mark must be on.
    """
    done: list[GridLine] = []
    waiting = list(lines)
    while waiting:
        role = waiting[0].role
        alike = [line for line in waiting if line.role == role]
        marks = [_marks(line, done, floor) for line in alike]
        # Of those with as many marks as can be, the first in the order wanted.
        place = max(range(len(alike)), key=lambda each: (len(marks[each]), -each))
        done.append(replace(alike[place], number=len(done) + 1, marked_on=marks[place]))
        waiting.remove(alike[place])
    return tuple(done)


def _marks(line: GridLine, before: Sequence[GridLine], floor: Floor) -> tuple[int, ...]:
    first = _FIRST.get(line.role)
    if first is not None:
        return first
    crossings = [
        (_along_mm(line, at), other.number)
        for other in before
        if other.role != "internal"
        and other.running_mm is not None
        and (at := line.crossing(other)) is not None
        and floor.holds(at)
    ]
    if len(crossings) < _ENOUGH:
        return tuple(number for _, number in crossings)
    length_mm = _along_mm(line, line.end)
    start = min(crossings, key=lambda each: (_outside(-each[0]), each[1]))
    others = [each for each in crossings if each != start]
    end = min(others, key=lambda each: (_outside(each[0] - length_mm), each[1]))
    return tuple(sorted((start[1], end[1])))


def _along_mm(line: GridLine, point: Point) -> float:
    """Return how far along a line a point lies, in mm from its start."""
    (ux, uy), (x, y) = line.along_unit, line.start
    return (point[0] - x) * ux + (point[1] - y) * uy


def _outside(beyond_mm: float) -> tuple[bool, float]:
    """Sort key: crossings at or beyond an end first, the nearest one foremost."""
    return (beyond_mm < 0, abs(beyond_mm))
