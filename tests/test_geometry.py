"""Which grounds overlap, against shapely alone."""

from __future__ import annotations

import shapely
from hypothesis import given
from hypothesis import strategies as st

from packseq.geometry import LEAST_OVERLAP_MM2, Ring, overlap, rectangle

NEAR_MM = st.integers(-6, 6).map(lambda steps: steps * 500.0)
SIDES_MM = st.integers(1, 8).map(lambda steps: steps * 500.0)
GROUNDS = st.builds(
    lambda x, y, bearing, length, width: rectangle((x, y), bearing, length, width),
    NEAR_MM,
    NEAR_MM,
    st.sampled_from([0.0, 30.0, 45.0, 90.0, 135.0]),
    SIDES_MM,
    SIDES_MM,
)


@given(one=GROUNDS, other=GROUNDS)
def test_grounds_overlap_where_shapely_finds_more_than_a_square_millimetre_common_to_both(
    one: Ring, other: Ring
) -> None:
    common_mm2 = shapely.intersection(shapely.Polygon(one), shapely.Polygon(other)).area
    assert overlap(one, other) == (common_mm2 > LEAST_OVERLAP_MM2)


def test_grounds_that_share_an_edge_do_not_overlap_and_those_that_cross_a_corner_do() -> None:
    square = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0))
    beside = ((1000.0, 0.0), (2000.0, 0.0), (2000.0, 1000.0), (1000.0, 1000.0))
    # The boxes of the two cross, the grounds do not: the triangle keeps beyond x + y = 2000.
    triangle = ((2000.0, 500.0), (2000.0, 2000.0), (500.0, 2000.0))
    assert not overlap(square, beside)
    assert not overlap(square, triangle)
    # 10 mm of the corner: a triangle of 10 x 10 / 2 = 50 square millimetres.
    assert overlap(square, ((1000.0, 990.0), (1000.0, 2000.0), (990.0, 1000.0)))
