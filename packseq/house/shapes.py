"""A frame's shapes on the plan, and how frames lie to one another."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from shapely import LineString, Polygon

from packseq.geometry import Point
from packseq.scenario.model import Frame

ONE_LINE_MM = 5.0
"""Furthest that the end of a frame may lie off the line of its run (docs/rules.md, reference-first)."""

ONE_BEARING_DEG = 0.1
"""Most that two frames of one run may differ in direction (docs/rules.md, reference-first)."""

_NOISE = 1e-6


class Leg(NamedTuple):
    """A frame passed from one end to the other: `start` is the end met first."""

    frame: Frame
    start: Point
    end: Point

    @property
    def turned(self) -> Leg:
        """The same frame passed the other way."""
        return Leg(self.frame, self.end, self.start)


def polygon(frame: Frame) -> Polygon:
    """Return the footprint as a polygon."""
    return Polygon(frame.footprint)


def long_sides(frame: Frame) -> tuple[LineString, LineString]:
    """Return the two long sides of the footprint: right and left of the way from end 1 to end 2."""
    right_start, right_end, left_end, left_start = frame.footprint
    return LineString((right_start, right_end)), LineString((left_start, left_end))


def end_faces(frame: Frame) -> tuple[LineString, LineString]:
    """Return the two short sides of the footprint: at end 1 and at end 2."""
    right_start, right_end, left_end, left_start = frame.footprint
    return LineString((right_start, left_start)), LineString((right_end, left_end))


def along_mm(frame: Frame, point: Point) -> float:
    """Return how far along the frame a point lies, in mm from end 1 (below 0 before it)."""
    (x1, y1), (x2, y2) = frame.start, frame.end
    return ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / frame.length_mm


def left_of_mm(point: Point, start: Point, end: Point) -> float:
    """Return how far a point lies left of the endless line from `start` to `end`, in mm (below 0: right)."""
    (x1, y1), (x2, y2) = start, end
    return ((x2 - x1) * (point[1] - y1) - (y2 - y1) * (point[0] - x1)) / math.dist(start, end)


def angle_between_deg(first: Frame, second: Frame) -> float:
    """Return the angle between two frames' lines, 0 to 90 degrees; which end is end 1 does not matter."""
    turn = abs(first.bearing_deg - second.bearing_deg) % 180.0
    return min(turn, 180.0 - turn)


def parallel(first: Frame, second: Frame) -> bool:
    """Tell whether two frames have one direction, as the frames of a run must."""
    return angle_between_deg(first, second) <= ONE_BEARING_DEG + _NOISE


def on_one_line(ends: Iterable[Point], start: Point, end: Point) -> bool:
    """Tell whether every point lies within 5 mm of the line from `start` to `end`."""
    return all(abs(left_of_mm(point, start, end)) <= ONE_LINE_MM + _NOISE for point in ends)
