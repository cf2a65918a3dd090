"""A measured value, what it should be, and what is said of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from packseq.sitework.readings.tolerances import Check

Verdict = Literal["fix", "re-check", "pass", "no limit"]
VERDICTS: tuple[Verdict, ...] = ("fix", "re-check", "pass", "no limit")
"""What may be said of a reading, in the order in which it is listed."""


@dataclass(frozen=True, slots=True)
class Task:
    """What is checked at one place, whatever it reads there.

    `where` is a frame, or two crossings of set-out lines for a diagonal; `place` says in words where on
    it. `expected_mm` is what it should read, `length_mm` the length that its limit is for, and
    `give_or_take_mm` how far the reading itself may be off. `if_more` and `if_less` say what to do when it
    reads more or less than it should, with ``{mm}`` where the difference goes.
    """

    check: Check
    level: int
    where: str
    at_mm: float | None
    place: str
    expected_mm: float
    length_mm: float
    give_or_take_mm: float
    if_more: str
    if_less: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read at a place, and in which row of the file."""

    row: int
    task: Task
    reading_mm: float

    @property
    def off_mm(self) -> float:
        """By how much it reads more than it should; below 0: less."""
        return self.reading_mm - self.task.expected_mm


@dataclass(frozen=True, slots=True)
class Readings:
    """The readings of a file, and what was left blank, by row."""

    readings: tuple[Reading, ...]
    blank: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """A reading against its limit; `allowed_mm` is None where the set has none for it."""

    reading: Reading
    allowed_mm: float | None
    verdict: Verdict
    to_do: str
