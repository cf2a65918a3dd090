"""Runs as straight walls on the plan: where they begin and end, where their faces lie, which way is in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.geometry import Point
from packseq.house.model import House, Run
from packseq.scenario.model import Frame, Location

_COMPASS_DEG = {
    "east": 0.0,
    "north-east": 45.0,
    "north": 90.0,
    "north-west": 135.0,
    "west": 180.0,
    "south-west": 225.0,
    "south": 270.0,
    "south-east": 315.0,
}
_QUARTER_DEG = 90.0


@dataclass(frozen=True)
class Wall:
    """A run as one straight strip.

    `start` and `end` are the ends of its centre line in mm. An external wall goes anticlockwise
    round the building, so that indoors lies on its left; an internal one goes as its run does.
    `thickness_mm` is that of its thickest frame.
    """

    name: str
    level: int
    location: Location
    frames: tuple[str, ...]
    start: Point
    end: Point
    thickness_mm: float

    @cached_property
    def length_mm(self) -> float:
        """Length from end to end in mm."""
        return math.dist(self.start, self.end)

    @cached_property
    def along(self) -> Point:
        """Unit vector from start to end."""
        (x1, y1), (x2, y2) = self.start, self.end
        return ((x2 - x1) / self.length_mm, (y2 - y1) / self.length_mm)

    @cached_property
    def left(self) -> Point:
        """Unit vector square to the wall, to the left of the way from start to end: indoors, if external."""
        return (-self.along[1], self.along[0])

    def face(self, *, left: bool) -> tuple[Point, Point]:
        """Return one face of the wall from start to end; the right one of an external wall is its outside."""
        out = self.thickness_mm / 2 * (1 if left else -1)
        (x1, y1), (x2, y2) = self.start, self.end
        across = (self.left[0] * out, self.left[1] * out)
        return ((x1 + across[0], y1 + across[1]), (x2 + across[0], y2 + across[1]))


def compass(heading: Point) -> str:
    """Return the compass point nearest to a direction, to an eighth."""
    bearing = math.degrees(math.atan2(heading[1], heading[0]))
    return min(_COMPASS_DEG, key=lambda name: _turn_deg(bearing, _COMPASS_DEG[name]))


def sides_of(wall: Wall) -> tuple[str, str]:
    """Return the sides that a reading at a wall may be told to be on, the usual one first."""
    return ("outside", "inside") if wall.location == "external" else ("left", "right")


def toward(wall: Wall, frame: Frame, side: str) -> Point:
    """Return the unit vector toward a side of a frame.

    Out of the house and into it for an external frame; left and right of the way from end 1 to end 2 for
    an internal one.
    """
    if wall.location == "external":
        return wall.left if side == "inside" else back(wall.left)
    ux, uy = (
        (frame.end[0] - frame.start[0]) / frame.length_mm,
        (frame.end[1] - frame.start[1]) / frame.length_mm,
    )
    return (-uy, ux) if side == "left" else (uy, -ux)


def back(heading: Point) -> Point:
    """Return the opposite direction."""
    return (-heading[0], -heading[1])


def walls_of(house: House, level: int) -> tuple[Wall, ...]:
    """Return the walls of one level, in the order of the house's runs."""
    return tuple(_wall(house, run) for run in house.runs if run.level == level)


def walls_by_frame(house: House) -> Mapping[str, Wall]:
    """Return the wall that each frame is part of, by the frame's name."""
    return {
        name: wall for level in house.levels for wall in walls_of(house, level.level) for name in wall.frames
    }


def _wall(house: House, run: Run) -> Wall:
    frames = [house.scenario.frames[name] for name in run.frames]
    first, last = frames[0], frames[-1]
    heading = (last.middle[0] - first.middle[0], last.middle[1] - first.middle[1])
    if len(frames) == 1:
        heading = (first.end[0] - first.start[0], first.end[1] - first.start[1])
        if run.location == "external" and not _faces(heading, run.side):
            heading = (-heading[0], -heading[1])
    ends = sorted(
        (point for frame in frames for point in (frame.start, frame.end)),
        key=lambda point: point[0] * heading[0] + point[1] * heading[1],
    )
    return Wall(
        name=run.name,
        level=run.level,
        location=run.location,
        frames=run.frames,
        start=ends[0],
        end=ends[-1],
        thickness_mm=max(frame.thickness_mm for frame in frames),
    )


def _faces(heading: Point, side: str) -> bool:
    """Tell whether outdoors, right of the heading, is on a compass side."""
    right_deg = math.degrees(math.atan2(heading[1], heading[0])) - _QUARTER_DEG
    return _turn_deg(right_deg, _COMPASS_DEG[side]) < _QUARTER_DEG


def _turn_deg(first_deg: float, second_deg: float) -> float:
    """Return the angle between two directions, 0 to 180 degrees."""
    turn = (first_deg - second_deg) % 360.0
    return min(turn, 360.0 - turn)
