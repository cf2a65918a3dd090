"""Where a string line along a wall is read."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

STATION_MM = 2500.0
"""Most from one reading to the next: every 2 to 3 m, common practice, no source."""

LEAST_APART_MM = 300.0
"""Two readings nearer than this are one: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Station:
    """A place along a wall where the gap to the string is read, and what is there."""

    at_mm: float
    what: str


def stations(length_mm: float, marks: Iterable[Station], most_mm: float = STATION_MM) -> tuple[Station, ...]:
    """Return where the string is read between the packers at a wall's two ends.

    Parameters
    ----------
    length_mm
        Length of the wall.
    marks
        What must be read at: joins and openings. One within 300 mm of an end, where the packer is, or of
        the one before is left out.
    most_mm
        Most from one reading, or packer, to the next; more go in between, evenly.
    """
    kept: list[Station] = []
    last_mm = 0.0
    for mark in sorted(marks, key=lambda mark: (mark.at_mm, mark.what)):
        if mark.at_mm - last_mm >= LEAST_APART_MM and length_mm - mark.at_mm >= LEAST_APART_MM:
            kept.append(mark)
            last_mm = mark.at_mm
    between = [
        Station(before + (after - before) / count * number, "between")
        for before, after in pairwise([0.0, *(mark.at_mm for mark in kept), length_mm])
        if (count := math.ceil((after - before) / most_mm - 1e-9)) > 1
        for number in range(1, count)
    ]
    return tuple(sorted((*kept, *between), key=lambda station: station.at_mm))
