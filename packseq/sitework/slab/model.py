"""Tapes, the slab that they add up to, and how the frames fit on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.sitework.slabedges import AtEdge


@dataclass(frozen=True, slots=True)
class Tape:
    """One reading: between which corners, in the order of their names, what it says, how good it is."""

    row: int
    corners: tuple[str, str]
    measured_mm: float
    sd_mm: float


@dataclass(frozen=True, slots=True)
class Tapes:
    """What a file holds: its readings, and the rows left blank."""

    readings: tuple[Tape, ...]
    blank: tuple[tuple[int, tuple[str, str]], ...]


@dataclass(frozen=True, slots=True)
class Checked:
    """A tape after the adjustment.

    `off_mm` is measured less adjusted. `spare` is the tape's redundancy number: the share of an error in it
    that shows in `off_mm`, 0 where no other tape checks it, 1 where the others fix it wholly.
    `score` is the standardised residual, off by its own standard deviation; None where nothing checks it.
    `blunder_mm` is how wrong the tape is if it alone is wrong, and `seen_from_mm` the smallest blunder that
    the test finds (in four of five cases).
    """

    tape: Tape
    adjusted_mm: float
    off_mm: float
    spare: float
    score: float | None
    blunder_mm: float | None
    seen_from_mm: float | None


@dataclass(frozen=True, slots=True)
class Adjusted:
    """The slab as measured.

    `corners` are on the axes of the drawing: the edge at the reference wall, the base, begins where it is
    drawn and lies as it is drawn. `sd_mm` are each corner's standard deviations in x and y, from the base.
    `spare_tapes` is how many tapes there are beyond what fixes the corners. `unit_error` is the root of the
    weighted sum of squares over them, about 1 where the tapes are as good as stated, None without any;
    `agrees` tells whether it passes its test (chi-square, 5 per cent). `suspects` are tapes whose score says
    that one of them is wrong and that cannot be told apart, worst first.
    """

    corners: Mapping[str, Point]
    sd_mm: Mapping[str, Point]
    tapes: tuple[Checked, ...]
    spare_tapes: int
    unit_error: float | None
    agrees: bool | None
    suspects: tuple[Checked, ...]


@dataclass(frozen=True, slots=True)
class WallFit:
    """A wall on the slab as measured: how far its outer face comes over the edge at each end, in mm."""

    at_edge: AtEdge
    over_mm: tuple[float, float]

    @property
    def beyond_mm(self) -> tuple[float, float]:
        """By how much that is more than drawn at each end; below 0: less."""
        first, second = self.at_edge.drawn_mm
        return (self.over_mm[0] - first, self.over_mm[1] - second)


@dataclass(frozen=True, slots=True)
class Fit:
    """The frame plan moved to fit: along and square to the reference wall (into the house), in mm.

    `worst_mm` is the largest difference from what is drawn at any end of any wall: no shift has a smaller.
    """

    along_mm: float
    inward_mm: float
    worst_mm: float
    walls: tuple[WallFit, ...]
