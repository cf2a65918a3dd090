"""How big a level is over its outside faces: figures to hold against the plan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.house.location import outside
from packseq.house.model import House

_MM2_IN_M2 = 1e6


@dataclass(frozen=True, slots=True)
class Extent:
    """A level over its outside faces: west to east, south to north, and the area inside them.

    A site wall encloses nothing, so it has no area. `frames_round_mm` is the length of the
    perimeter's frames together.
    """

    level: int
    east_west_mm: float
    north_south_mm: float
    area_m2: float | None
    frames_round: int
    frames_round_mm: float

    def __str__(self) -> str:
        inside = "" if self.area_m2 is None else f", {self.area_m2:,.1f} m2"
        return (
            f"Level {self.level}: {self.east_west_mm:,.0f} mm west to east and {self.north_south_mm:,.0f} mm "
            f"south to north over the outside faces{inside}; outside frames: {self.frames_round}, "
            f"{self.frames_round_mm / 1000:,.2f} m together."
        )


def extents(house: House) -> tuple[Extent, ...]:
    """Return the extent of each level."""
    found = []
    for level in house.levels:
        frames = [frame for frame in house.scenario.frames.values() if frame.level == level.level]
        perimeter = [house.scenario.frames[name] for name in level.perimeter]
        bridges = [
            (house.scenario.frames[first], house.scenario.frames[second])
            for first, second in house.scenario.gaps
            if {first, second} <= set(level.perimeter)
        ]
        rings = [
            tuple((x, y) for x, y in ring.coords[:-1])
            for ring in outside(frames, bridges, house.scenario.join_gap_mm).geoms
        ]
        points = [point for ring in rings for point in ring]
        found.append(
            Extent(
                level=level.level,
                east_west_mm=max(x for x, _ in points) - min(x for x, _ in points),
                north_south_mm=max(y for _, y in points) - min(y for _, y in points),
                area_m2=math.fsum(map(enclosed_mm2, rings)) / _MM2_IN_M2 if level.closed else None,
                frames_round=len(perimeter),
                frames_round_mm=math.fsum(frame.length_mm for frame in perimeter),
            )
        )
    return tuple(found)


def enclosed_mm2(points: Sequence[Point]) -> float:
    """Return the area inside a ring of points, positive when they go anticlockwise.

    The shoelace formula: half the sum of ``x1 y2 - x2 y1`` over the sides.
    """
    sides = zip(points, (*points[1:], *points[:1]), strict=True)
    return math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in sides) / 2
