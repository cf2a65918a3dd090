"""What blocks the way on one level: standing frames, no-go areas, and gaps too narrow to use.

Every blocker is convex, so that a straight line is tested against it exactly and fast, and a
shortest route bends only at corners of frames, jambs and no-go areas. A gap's shape is the convex
hull of what each of its two sides has near the other: it lies inside the hull of the two, adds
only hollow corners to them, and so lengthens no route that goes round them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Point, Polygon
from shapely.geometry.polygon import orient

from packseq.geometry import Ring
from packseq.routes.crossing import Flags
from packseq.routes.passing import Passing, solid_parts
from packseq.routes.values import Stop
from packseq.scenario.model import Frame

GAP_MM = 100.0
"""Gaps narrower than this are closed (docs/rules.md, routes and walking)."""

GRIP_MM = 5.0
"""How far a closed gap reaches into what it lies between, so that nothing slips past along its edge."""

SKIN_MM = 0.5
"""How much every blocker is shrunk before lines are tested against it, so that a line may run along
its side or touch its corner. A route may therefore cut a corner by this much, which changes its
length by far less than 1 mm."""

_ROUNDING_MM = 1e-6


@dataclass(frozen=True)
class Blocker:
    """A convex piece of ground that cannot be crossed while all of `frames` stand; always, if none are named.

    `shape` is already shrunk by `SKIN_MM`. `is_gap` marks the closed space between two others.
    `leaving` names the frame that the piece is for, if it blocks only the team that leaves that
    frame's middle.
    """

    frames: tuple[str, ...]
    shape: Polygon
    is_gap: bool = False
    leaving: str | None = None

    def bars(self, ends: Sequence[Stop | None]) -> Flags:
        """Tell at which ends lines take notice of this piece: stops, and None where a route bends.

        The team leaves the middle of a frame on either side of it, past the frame itself and past a
        closed gap that the frame fills, but not past the pieces that are there for it alone.
        """
        if self.leaving is not None:
            return np.array([end is not None and end.frame == self.leaving for end in ends], dtype=np.bool_)
        lines = {place: end for place, end in enumerate(ends) if end is not None and end.frame is not None}
        passed = np.array([end.frame in self.frames for end in lines.values()], dtype=np.bool_)
        if self.is_gap:
            middles = np.array([end.point for end in lines.values()]).reshape(-1, 2)
            passed |= shapely.intersects_xy(self.shape, middles)
        barred = np.ones(len(ends), dtype=np.bool_)
        barred[list(lines)] = ~passed
        return barred


@dataclass(frozen=True)
class _Side:
    """A convex solid that a gap may lie beside: part of a frame, or of the no-go area with a number."""

    shape: Polygon
    frame: Frame | None = None
    area: int | None = None

    @property
    def names(self) -> tuple[str, ...]:
        return () if self.frame is None else (self.frame.name,)

    def is_part_with(self, other: _Side) -> bool:
        return self.frame is other.frame and self.area == other.area


def blockers(frames: Mapping[str, Frame], no_go: Sequence[Ring], through: Passing) -> tuple[Blocker, ...]:
    """Return everything that can block a level for a team that passes the openings `through`."""
    sides = [_Side(part, frame=frame) for frame in frames.values() for part in solid_parts(frame, through)]
    areas = [
        _Side(part, area=number)
        for number, outline in enumerate(no_go)
        for part in _convex_parts(Polygon(outline))
    ]
    return (
        *(Blocker(side.names, part) for side in sides for part in _shrunk(side.shape)),
        *(Blocker((), part) for outline in no_go for part in _shrunk(Polygon(outline))),
        *_closed_gaps([*sides, *areas]),
    )


def outlines(
    frames: Mapping[str, Frame], no_go: Sequence[Ring], throughs: Iterable[Passing]
) -> tuple[Ring, ...]:
    """Return the rings, anticlockwise, whose corners a route may bend at."""
    solids = {
        part for through in throughs for frame in frames.values() for part in solid_parts(frame, through)
    }
    return tuple(sorted(_ring(shape) for shape in (*solids, *map(Polygon, no_go))))


def _closed_gaps(sides: Sequence[_Side]) -> list[Blocker]:
    """Close the gap between every two sides that come nearer than `GAP_MM`, touching ones included."""
    shapes = np.array([side.shape for side in sides], dtype=object)
    found = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=GAP_MM - _ROUNDING_MM)
    pairs = sorted(
        (int(first), int(second))
        for first, second in found.T
        # What lies between two parts of one frame or area is as drawn.
        if first < second and not sides[first].is_part_with(sides[second])
    )
    one, other = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
    reach = shapely.buffer(shapes, GAP_MM + GRIP_MM, quad_segs=8)
    near = shapely.union(
        shapely.intersection(shapes[one], reach[other]), shapely.intersection(shapes[other], reach[one])
    )
    gaps: list[Blocker] = []
    for pair, closed in zip(pairs, shapely.convex_hull(near), strict=True):
        both = [sides[place] for place in pair]
        names = tuple(sorted({name for side in both for name in side.names}))
        gaps.extend(Blocker(names, part, is_gap=True) for part in _shrunk(closed))
        for own, neighbour in (both, both[::-1]):
            if own.frame is not None:
                half = _half_beside(own.frame, neighbour.shape, closed)
                gaps.extend(Blocker(names, part, leaving=own.frame.name) for part in _shrunk(half))
    return gaps


def _half_beside(frame: Frame, neighbour: Polygon, closed: shapely.Geometry) -> shapely.Geometry:
    """Return what of a closed gap stops a team that leaves the middle of `frame`; empty if nothing does.

    The team walks out over the frame's own line, to either side. A neighbour that meets one side of
    the frame closes that half of it, from the centre line outwards, or the team could walk on inside
    the frame, past the neighbour, into the next room. A neighbour at the frame's end closes nothing
    here, nor one that meets the very middle: there the team may be on either side of it.
    """
    line = LineString([frame.start, frame.end])
    reach_mm = frame.thickness_mm / 2 + GAP_MM
    halves = shapely.buffer(line, [reach_mm, -reach_mm], cap_style="flat", single_sided=True)
    meets = halves[shapely.area(shapely.intersection(halves, neighbour)) > _ROUNDING_MM]
    if len(meets) != 1:
        return Polygon()
    half = shapely.intersection(meets[0], closed)
    return Polygon() if half.intersects(Point(frame.middle)) else half


def _ring(shape: Polygon) -> Ring:
    return tuple((x, y) for x, y in orient(shape).exterior.coords[:-1])


def _shrunk(shape: shapely.Geometry) -> list[Polygon]:
    """Return convex polygons that fill a shape less its skin; none for a sliver."""
    inner = shapely.buffer(shape, -SKIN_MM, join_style="mitre")
    return [part for piece in shapely.get_parts(inner) if not piece.is_empty for part in _convex_parts(piece)]


def _convex_parts(shape: Polygon) -> list[Polygon]:
    """Cut a polygon into convex ones: itself, or triangles."""
    if shapely.convex_hull(shape).area - shape.area <= 1e-6 * shape.area:
        return [shape]
    return list(shapely.get_parts(shapely.constrained_delaunay_triangles(shape)))
