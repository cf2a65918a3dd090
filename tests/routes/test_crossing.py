"""Lines against convex polygons, many at a time, held to shapely one by one."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, MultiPoint, Polygon

from packseq.routes.crossing import lines_crossing

# Whole numbers on a small grid: lines along a side, through a corner and ending inside come up all the time.
GRID = st.tuples(st.integers(0, 12), st.integers(0, 12))


def crossing(shape: Polygon, points: list[tuple[int, int]]) -> set[tuple[int, int]]:
    """Return the lines between any two of the points, by position, that are said to meet a polygon."""
    at = np.array(points, dtype=np.float64)
    starts, ends = np.nonzero(~np.eye(len(points), dtype=np.bool_))
    hit = lines_crossing(shape, at, starts, ends)
    return set(zip(starts[hit].tolist(), ends[hit].tolist(), strict=True))


@given(st.lists(GRID, min_size=3, max_size=14), st.lists(GRID, min_size=2, max_size=8, unique=True))
def test_a_line_meets_a_polygon_exactly_when_shapely_says_so(
    outline: list[tuple[int, int]], points: list[tuple[int, int]]
) -> None:
    shape = MultiPoint(outline).convex_hull
    assume(isinstance(shape, Polygon))
    assert isinstance(shape, Polygon)
    meeting = {
        (one, other)
        for one, start in enumerate(points)
        for other, end in enumerate(points)
        if one != other and LineString([start, end]).intersects(shape)
    }
    assert crossing(shape, points) == meeting


@pytest.mark.parametrize("turn_deg", [0.0, 20.0, 45.0, 70.0])
def test_corners_in_the_middle_of_a_side_and_many_sides_change_nothing(turn_deg: float) -> None:
    # As the hull of a closed gap may be: corners that do not turn, or 40 sides of a circle.
    square = shapely.segmentize(shapely.box(0, 0, 8, 4), 1.0)
    turned = shapely.affinity.rotate(square, turn_deg, origin=(0, 0))
    round_one = shapely.Point(3, 3).buffer(4, quad_segs=10)
    points = [(x, y) for x in range(-6, 12, 2) for y in range(-5, 12, 3)]
    for shape in (turned, round_one):
        meeting = {
            (one, other)
            for one, start in enumerate(points)
            for other, end in enumerate(points)
            if one != other and LineString([start, end]).distance(shape) < 1e-9
        }
        assert crossing(shape, points) == meeting
