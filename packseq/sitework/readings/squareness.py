"""Two diagonals of one rectangle: how far it is out of square."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from packseq.sitework.readings.model import Reading
from packseq.sitework.readings.tasks import Job
from packseq.sitework.setout import Rectangle


@dataclass(frozen=True, slots=True)
class Squareness:
    """A rectangle of the set-out both of whose diagonals were measured.

    `differ_mm` is the first less the second, `out_mm` how far the rectangle is out of square over its
    shorter side.
    """

    level: int
    rectangle: Rectangle
    differ_mm: float
    out_mm: float

    @property
    def over_mm(self) -> float:
        """The shorter side."""
        return min(self.rectangle.along_mm, self.rectangle.across_mm)


def squareness(readings: Iterable[Reading], job: Job) -> tuple[Squareness, ...]:
    """Return every rectangle both of whose diagonals are among the readings.

    Diagonals of a rectangle with sides a and b, turned by a small angle e, differ by ``2ab sin e`` over the
    diagonal (law of cosines); over the shorter side that is as much as ``sin e`` times it.
    """
    measured: defaultdict[tuple[int, int], dict[str, float]] = defaultdict(dict)
    for reading in readings:
        task = reading.task
        if task.check == "diagonal":
            rectangle = job.diagonals[task.level][task.where]
            measured[task.level, rectangle.proves][task.where] = reading.reading_mm
    found = []
    for (level, _), own in sorted(measured.items()):
        rectangle = job.diagonals[level][next(iter(own))]
        values = [own.get("-".join(ends)) for ends in rectangle.diagonals]
        first, second = values
        if first is None or second is None:
            continue
        along_mm, across_mm = rectangle.along_mm, rectangle.across_mm
        sine = (first - second) * rectangle.diagonal_mm / (2 * along_mm * across_mm)
        found.append(Squareness(level, rectangle, first - second, sine * min(along_mm, across_mm)))
    return tuple(found)
