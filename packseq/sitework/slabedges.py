"""The corners and edges of the slab, and which wall stands at which edge."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from packseq.geometry import Point, Ring
from packseq.house.model import House
from packseq.sitework.walls import Wall, walls_of

NEAR_MM = 400.0
"""A wall further than this from an edge does not stand at it; from no standard."""

_PARALLEL = math.sin(math.radians(5.0))
"""An edge this much out of parallel is another edge than the wall's."""


def corner_names(slab: Ring) -> tuple[str, ...]:
    """Return the names of the slab's corners: C1, C2 and so on, as site.toml lists them."""
    return tuple(f"C{number}" for number in range(1, len(slab) + 1))


def anticlockwise(slab: Ring) -> bool:
    """Tell whether a ring goes anticlockwise (twice its area, by the shoelace formula, is positive)."""
    after = [*slab[1:], slab[0]]
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(slab, after, strict=True)) > 0


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of the slab between two named corners, anticlockwise round it: off the slab is on its right."""

    corners: tuple[str, str]

    @property
    def name(self) -> str:
        """What the edge is called: its two corners."""
        return "-".join(self.corners)

    def over_mm(self, point: Point, at: Mapping[str, Point]) -> float:
        """Return how far a point lies past the edge, off the slab, in mm; below 0 on the slab's side."""
        (x1, y1), (x2, y2) = at[self.corners[0]], at[self.corners[1]]
        cross = (x2 - x1) * (point[1] - y1) - (y2 - y1) * (point[0] - x1)
        return -cross / math.dist((x1, y1), (x2, y2))

    def outward(self, at: Mapping[str, Point]) -> Point:
        """Return the unit vector square to the edge, off the slab."""
        (x1, y1), (x2, y2) = at[self.corners[0]], at[self.corners[1]]
        length = math.dist((x1, y1), (x2, y2))
        return ((y2 - y1) / length, (x1 - x2) / length)


@dataclass(frozen=True, slots=True)
class AtEdge:
    """An external wall and the slab edge that it stands at; `drawn_mm` is how far its face is drawn over it.

    There is one figure for each end of the wall; below 0 the face is drawn back from the edge.
    """

    wall: Wall
    edge: Edge
    drawn_mm: tuple[float, float]


def slab_edges(slab: Ring) -> tuple[Edge, ...]:
    """Return the edges of the slab, anticlockwise."""
    names = corner_names(slab)
    if not anticlockwise(slab):
        names = names[::-1]
    return tuple(Edge(pair) for pair in zip(names, [*names[1:], names[0]], strict=True))


def corners_at(slab: Ring) -> dict[str, Point]:
    """Return where the corners are drawn, by name."""
    return dict(zip(corner_names(slab), slab, strict=True))


def said_corners(slab: Ring) -> str:
    """Return the corners and where they are drawn, in words."""
    return ", ".join(f"{name} ({x:.0f}, {y:.0f})" for name, (x, y) in corners_at(slab).items())


def level_edges(house: House, level: int) -> tuple[AtEdge, ...]:
    """Return which walls of a level stand at which edges of the slab: none above the lowest level."""
    scenario = house.scenario
    return walls_at_edges(walls_of(house, level), scenario.slab) if level == scenario.levels[0] else ()


def walls_at_edges(walls: Iterable[Wall], slab: Ring) -> tuple[AtEdge, ...]:
    """Return the external walls that stand at an edge of the slab, each with the nearest edge that will do.

    An edge will do when it runs the same way (to 5 degrees), lies within `NEAR_MM` of the wall's
    outer face and goes along at least part of it.
    """
    edges, at = slab_edges(slab), corners_at(slab)
    found = []
    for wall in walls:
        if wall.location == "external":
            near = [edge for edge in edges if _stands_at(wall, edge, at)]
            if near:
                edge = min(near, key=lambda edge: max(map(abs, _over(wall, edge, at))))
                found.append(AtEdge(wall, edge, _over(wall, edge, at)))
    return tuple(found)


def _over(wall: Wall, edge: Edge, at: Mapping[str, Point]) -> tuple[float, float]:
    first, second = (edge.over_mm(point, at) for point in wall.face(left=False))
    return first, second


def _stands_at(wall: Wall, edge: Edge, at: Mapping[str, Point]) -> bool:
    out = edge.outward(at)
    outdoors = (-wall.left[0], -wall.left[1])
    if abs(out[0] * outdoors[1] - out[1] * outdoors[0]) > _PARALLEL or _dot(out, outdoors) < 0:
        return False
    if max(map(abs, _over(wall, edge, at))) > NEAR_MM:
        return False
    return _shared(wall, [at[name] for name in edge.corners]) > 0


def _shared(wall: Wall, ends: Sequence[Point]) -> float:
    """Return over what length an edge lies alongside a wall, in mm; below 0 past its end."""
    places = sorted(_dot(wall.along, (x - wall.start[0], y - wall.start[1])) for x, y in ends)
    return min(wall.length_mm, places[-1]) - max(0.0, places[0])


def _dot(first: Point, second: Point) -> float:
    return first[0] * second[0] + first[1] * second[1]
