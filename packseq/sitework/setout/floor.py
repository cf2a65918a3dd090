"""The ground that lines are marked on: the slab, or the floor of an upper level."""

from __future__ import annotations

from shapely import LineString, Polygon, get_parts, unary_union
from shapely import Point as Spot

from packseq.geometry import Point
from packseq.house.model import House

_SLACK_MM = 1.0
"""A mark at the very edge is on the floor."""


class Floor:
    """Tells what lies on the floor of one level.

    On the lowest level that is the slab. On a level above, whose deck no file describes, it is what
    the walls of that level go round.
    """

    def __init__(self, house: House, level: int) -> None:
        scenario = house.scenario
        if level == scenario.levels[0]:
            shape = Polygon(scenario.slab)
        else:
            frames = [frame for frame in scenario.frames.values() if frame.level == level]
            joined = unary_union([Polygon(frame.footprint).buffer(scenario.join_gap_mm) for frame in frames])
            around = [Polygon(piece.exterior) for piece in get_parts(joined)]
            shape = max(around, key=lambda piece: piece.area).buffer(-scenario.join_gap_mm)
        self._shape = shape.buffer(_SLACK_MM)

    def holds(self, *points: Point) -> bool:
        """Tell whether every point is on the floor."""
        return all(self._shape.covers(Spot(point)) for point in points)

    def holds_ring(self, *points: Point) -> bool:
        """Tell whether the sides of a ring of points lie on the floor all the way."""
        return bool(self._shape.covers(LineString([*points, points[0]])))
