"""Shortest walks by trying every line between corners: plain shapely and networkx, nothing of the routes.

Gaps are closed by growing each pair of obstacles by 50 mm and shrinking it back. Openings must be such that
no carried frame passes one tilted that it does not pass upright; no-go areas are not known here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import networkx as nx
import numpy as np
import shapely
import shapely.ops
from shapely import LineString, Polygon

from packseq.geometry import Point
from packseq.scenario.model import Frame

CLEARANCE_MM = 50.0
_LOADS = tuple[float, float] | None


class Whereabouts(NamedTuple):
    """A point; `frame` where it is the middle of that frame's line."""

    point: Point
    frame: str | None = None


class TriedLines:
    """Walks between the frames of one level, by every line there is between corners."""

    def __init__(self, frames: Sequence[Frame]) -> None:
        self._frames = frames
        self._nets: dict[tuple[_LOADS, frozenset[str]], _Net] = {}
        self._walks: dict[tuple[Whereabouts, _LOADS, frozenset[str]], _Walks] = {}

    def shortest_mm(
        self, start: Whereabouts, end: Whereabouts, carried: Frame | None, standing: frozenset[str]
    ) -> float | None:
        """Return the length of the shortest way, or None where there is none."""
        load = None if carried is None else (carried.height_mm, carried.thickness_mm)
        there = [frame for frame in self._frames if frame.name in standing]
        if start == end:
            return 0.0
        now = frozenset(frame.name for frame in there)
        if (load, now) not in self._nets:
            self._nets[load, now] = _Net(there, carried)
        net = self._nets[load, now]
        if (start, load, now) not in self._walks:
            self._walks[start, load, now] = _Walks(net, start)
        return self._walks[start, load, now].to(end)


class _Net:
    """What blocks for one load with some frames standing, and the lines between corners that are clear."""

    def __init__(self, standing: Sequence[Frame], carried: Frame | None) -> None:
        self._standing, self._carried = standing, carried
        self.blocked = shrunk(obstacles(standing, carried))
        self.corners = sorted(
            {
                (x, y)
                for frame in standing
                for part in parts(frame, carried)
                for x, y, *_ in part.exterior.coords
            }
        )
        self.graph: nx.Graph[int | str] = nx.Graph()
        self.graph.add_nodes_from(range(len(self.corners)))
        self.graph.add_weighted_edges_from(
            (one, other, math.dist(self.corners[one], self.corners[other]))
            for one, other in clear_pairs(self.corners, self.blocked)
        )

    def leaving(self, name: str | None) -> shapely.Geometry:
        """Return what blocks a team that leaves the middle of a frame; None: any other place."""
        if all(frame.name != name for frame in self._standing):
            return self.blocked
        return shrunk(obstacles(self._standing, self._carried, leaving=name))


class _Walks:
    """All walks from one place."""

    def __init__(self, net: _Net, start: Whereabouts) -> None:
        self._net, self._start = net, start
        self._blocked = net.leaving(start.frame)
        graph = net.graph
        graph.add_node("start")
        for corner in seen(start.point, net.corners, self._blocked):
            graph.add_edge("start", corner, weight=math.dist(start.point, net.corners[corner]))
        self._far = nx.single_source_dijkstra_path_length(graph, "start")
        graph.remove_node("start")

    def to(self, end: Whereabouts) -> float | None:
        if seen(self._start.point, [end.point], self._blocked):
            return math.dist(self._start.point, end.point)
        corners = self._net.corners
        lengths = [
            self._far[corner] + math.dist(corners[corner], end.point)
            for corner in seen(end.point, corners, self._net.blocked)
            if corner in self._far
        ]
        return min(lengths, default=None)


def clear_pairs(points: Sequence[Point], blocked: shapely.Geometry) -> list[tuple[int, int]]:
    """Return the pairs of points with nothing between them."""
    pairs = list(combinations(range(len(points)), 2))
    if not pairs:
        return []
    lines = shapely.linestrings([[points[one], points[other]] for one, other in pairs])
    hit: list[bool] = np.atleast_1d(shapely.intersects(blocked, lines)).tolist()
    return [pair for pair, is_hit in zip(pairs, hit, strict=True) if not is_hit]


def seen(point: Point, others: Sequence[Point], blocked: shapely.Geometry) -> list[int]:
    """Return the places in `others` of those that a straight line from a point comes to."""
    if not others:
        return []
    lines = shapely.linestrings([[point, other] for other in others])
    hit: list[bool] = np.atleast_1d(shapely.intersects(blocked, lines)).tolist()
    return [place for place, is_hit in enumerate(hit) if not is_hit]


def shrunk(shape: shapely.Geometry) -> shapely.Geometry:
    """Return a shape less half a millimetre, so that lines may run along it."""
    inner = shapely.buffer(shape, -0.5, join_style="mitre")
    shapely.prepare(inner)
    return inner


def passes(carried: Frame | None, width_mm: float, head_mm: float) -> bool:
    """Tell whether the team gets through an opening without a sill, a frame held upright."""
    if carried is None:
        return width_mm >= 600 and head_mm >= 1900
    return head_mm >= carried.height_mm and width_mm - 2 * CLEARANCE_MM >= carried.thickness_mm


def parts(frame: Frame, carried: Frame | None) -> list[Polygon]:
    """Cut the openings that let the team through out of a footprint."""
    solid: shapely.Geometry = Polygon(frame.footprint)
    for opening in frame.openings:
        if opening.sill_mm == 0 and passes(carried, opening.width_mm, opening.head_mm):
            line = LineString([frame.start, frame.end])
            hole = shapely.ops.substring(line, opening.from_mm, opening.from_mm + opening.width_mm)
            solid = shapely.difference(solid, hole.buffer(100, cap_style="flat"))
    return [part for part in shapely.get_parts(solid) if part.area > 1]


def obstacles(
    standing: Sequence[Frame], carried: Frame | None, *, leaving: str | None = None
) -> shapely.Geometry:
    """Return all that blocks; without `leaving` itself, but with what its neighbours close of its body."""
    frames = [frame for frame in standing if frame.name != leaving]
    solids = {frame.name: parts(frame, carried) for frame in frames}
    neighbours = [part for solid in solids.values() for part in solid]
    shapes: list[shapely.Geometry] = [*neighbours]
    for one, other in combinations(frames, 2):
        shapes.extend(
            closed(first, second)
            for first in solids[one.name]
            for second in solids[other.name]
            if first.distance(second) < 100
        )
    for own in standing:
        if own.name == leaving:
            shapes.extend(shut for part in neighbours for shut in _shut_halves(own, part))
    return shapely.union_all(shapes)


def closed(one: Polygon, other: Polygon) -> shapely.Geometry:
    """Close the gap between two obstacles: grow and shrink by 50 mm, and a bar where they are nearest."""
    both = shapely.union(one, other)
    grown = shapely.buffer(shapely.buffer(both, 50, quad_segs=16), -50, quad_segs=16)
    bar = shapely.shortest_line(one, other).buffer(5).intersection(both.convex_hull)
    return shapely.union_all([both, grown, bar])


def _shut_halves(own: Frame, part: Polygon) -> list[shapely.Geometry]:
    """Return the half of a frame's body that a neighbour at one side of it shuts off, if it does."""
    line, near = LineString([own.start, own.end]), part.buffer(105)
    halves = [shapely.buffer(line, side, single_sided=True, cap_style="flat") for side in (145, -145)]
    touched = [half for half in halves if shapely.intersection(half, part).area > 1]
    if len(touched) != 1:
        return []
    body = shapely.intersection(touched[0], Polygon(own.footprint))
    return [shapely.intersection(body, near)]
