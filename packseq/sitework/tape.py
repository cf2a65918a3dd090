"""From which end each frame is measured: the one that a lap comes to first."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from packseq.geometry import Point, bearing_deg
from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Frame
from packseq.sitework.walls import Wall, walls_of

_COMPASS = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")


@dataclass(frozen=True, slots=True)
class Tape:
    """A frame with a tape along it, hooked on at `zero`, the end of its centre line in mm."""

    frame: Frame
    zero: Point

    @property
    def hook(self) -> str:
        """The end that the tape is hooked on, such as ``west end``."""
        away = self.frame.end if self.zero == self.frame.start else self.frame.start
        return f"{compass(away, self.zero)} end"

    @property
    def far(self) -> str:
        """The other end."""
        away = self.frame.end if self.zero == self.frame.start else self.frame.start
        return f"{compass(self.zero, away)} end"

    def from_end_1(self, place_mm: float) -> float:
        """Return a place on the tape as a place from end 1 of the frame, or the other way round."""
        return place_mm if self.zero == self.frame.start else self.frame.length_mm - place_mm


def compass(start: Point, end: Point) -> str:
    """Return the nearest of the eight compass points to the way from one point to another."""
    return _COMPASS[math.floor(bearing_deg(start, end) / 45.0 + 0.5) % len(_COMPASS)]


def tapes(house: House, direction: LapDirection) -> Mapping[str, Tape]:
    """Return every frame with its tape.

    An external frame is measured from the end that comes first going round in `direction`, an internal
    one from its west or south end, as its run goes.
    """
    found = {}
    for level in house.levels:
        for wall in walls_of(house, level.level):
            turned = wall.location == "external" and direction == "clockwise"
            for name in wall.frames:
                found[name] = _tape(house.scenario.frames[name], wall, turned=turned)
    return {name: found[name] for name in house.scenario.frames}


def _tape(frame: Frame, wall: Wall, *, turned: bool) -> Tape:
    ends = sorted((frame.start, frame.end), key=lambda end: end[0] * wall.along[0] + end[1] * wall.along[1])
    return Tape(frame, ends[-1 if turned else 0])
