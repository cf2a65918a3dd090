"""Points, rectangles and distances on the plan, in millimetres.

Coordinates are ``(x, y)`` with x east and y north. Distances become whole
millimetres in one place, `whole_mm`.
"""

from __future__ import annotations

import math

Point = tuple[float, float]
Ring = tuple[Point, ...]

LEAST_OVERLAP_MM2 = 1.0
"""Grounds that share no more than this only touch: it swallows rounding, and nothing that is seen."""


def whole_mm(length: float) -> int:
    """Round a length to the nearest whole millimetre, halves up.

    Every walked leg is rounded here and nowhere else.
    """
    return math.floor(length + 0.5)


def leg_mm(start: Point, end: Point) -> int:
    """Return the straight distance between two points in whole mm."""
    return whole_mm(math.dist(start, end))


def middle(start: Point, end: Point) -> Point:
    """Return the point half-way between two points."""
    return ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)


def bearing_deg(start: Point, end: Point) -> float:
    """Return the direction from `start` to `end`, degrees anticlockwise from x, in [0, 360)."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])) % 360.0


def strip(start: Point, end: Point, width: float) -> Ring:
    """Return the corners of the rectangle `width` wide whose centre line runs from `start` to `end`.

    Corners go anticlockwise, beginning on the right of `start`. The two points must differ.
    """
    length = math.dist(start, end)
    across_x = -(end[1] - start[1]) / length * width / 2
    across_y = (end[0] - start[0]) / length * width / 2
    return (
        (start[0] - across_x, start[1] - across_y),
        (end[0] - across_x, end[1] - across_y),
        (end[0] + across_x, end[1] + across_y),
        (start[0] + across_x, start[1] + across_y),
    )


def rectangle(centre: Point, bearing: float, length: float, width: float) -> Ring:
    """Return the corners of a rectangle about `centre` whose long side lies at `bearing` degrees."""
    angle = math.radians(bearing)
    half_x, half_y = math.cos(angle) * length / 2, math.sin(angle) * length / 2
    start = (centre[0] - half_x, centre[1] - half_y)
    end = (centre[0] + half_x, centre[1] + half_y)
    return strip(start, end, width)


def overlap(one: Ring, other: Ring) -> bool:
    """Tell whether two grounds overlap by more than a square millimetre: sharing an edge is not enough."""
    # Most grounds that anybody asks about are far apart.
    for own, its in zip(zip(*one, strict=True), zip(*other, strict=True), strict=True):
        if max(own) <= min(its) or max(its) <= min(own):
            return False
    import shapely  # noqa: PLC0415 - slow to load, and most of what measures does without

    return bool(shapely.Polygon(one).intersection(shapely.Polygon(other)).area > LEAST_OVERLAP_MM2)
