"""The house graph: how frames join, which runs they make, and the way round the building."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from packseq.geometry import Point
from packseq.scenario.model import Location, Scenario

JoinKind = Literal["inline", "corner", "tee", "cross", "side by side"]


@dataclass(frozen=True, slots=True)
class Join:
    """Two frames that touch, by name in sorted order, and where (mm)."""

    frames: tuple[str, str]
    kind: JoinKind
    at: Point
    gap_mm: float


@dataclass(frozen=True, slots=True)
class Run:
    """Frames standing end to end in one straight line, in order.

    External runs go anticlockwise round the building; `side` is the compass side an
    external run faces, or the direction an internal run lies in ("east-west"). Internal runs
    go from west to east, or from south to north. `length_mm` is from end to end.
    `name` is what people call it on site: "north wall", "internal wall 3 (east-west)".
    """

    name: str
    level: int
    location: Location
    frames: tuple[str, ...]
    length_mm: float
    side: str


@dataclass(frozen=True)
class LevelHouse:
    """One level: its perimeter in anticlockwise order and its reference wall.

    `perimeter` begins with the reference wall, whose frames are in anticlockwise order too.
    `closed` is False for a site wall (one straight run), whose perimeter is the run itself.
    """

    level: int
    perimeter: tuple[str, ...]
    reference: tuple[str, ...]
    closed: bool
    internals: tuple[str, ...]

    def stand_round(self, direction: str) -> tuple[str, ...]:
        """Return the perimeter in the order of a one-way lap: reference wall first.

        `direction` is ``clockwise`` or ``anticlockwise``.
        """
        if direction == "anticlockwise":
            return self.perimeter
        count = len(self.reference)
        return self.perimeter[:count][::-1] + self.perimeter[count:][::-1]


@dataclass(frozen=True)
class House:
    """A scenario with what was derived from it; never changed after it is made.

    `touches` maps each frame to the frames that count as touching it, declared gaps
    between neighbours in the perimeter included.
    """

    scenario: Scenario
    locations: Mapping[str, Location]
    joins: tuple[Join, ...]
    runs: tuple[Run, ...]
    levels: tuple[LevelHouse, ...]
    touches: Mapping[str, tuple[str, ...]]

    @cached_property
    def run_of(self) -> Mapping[str, Run]:
        """The run that each frame stands in."""
        return {frame: run for run in self.runs for frame in run.frames}

    @cached_property
    def level_of(self) -> Mapping[str, LevelHouse]:
        """The level that each frame belongs to."""
        return {frame: level for level in self.levels for frame in (*level.perimeter, *level.internals)}
