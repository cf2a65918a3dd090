"""Grounds that overlap, held to shapely."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from packseq.geometry import Ring, overlap, rectangle

# Close together on a coarse grid: apart, edge to edge, corner to corner and across one another all come up.
RECTANGLE = st.builds(
    rectangle,
    st.tuples(st.integers(0, 6), st.integers(0, 6)).map(lambda at: (at[0] * 500.0, at[1] * 500.0)),
    st.sampled_from([0.0, 45.0, 90.0, 200.0]),
    st.sampled_from([500.0, 1000.0, 2000.0]),
    st.sampled_from([90.0, 500.0]),
)


@given(RECTANGLE, RECTANGLE)
def test_grounds_overlap_when_they_share_more_than_a_square_millimetre(one: Ring, other: Ring) -> None:
    shared_mm2 = Polygon(one).intersection(Polygon(other)).area
    assert overlap(one, other) == (shared_mm2 > 1.0)


def test_edge_to_edge_is_no_overlap_and_two_millimetres_of_a_metre_are() -> None:
    one = rectangle((0.0, 0.0), 0.0, 1000.0, 500.0)
    assert not overlap(one, rectangle((1000.0, 0.0), 0.0, 1000.0, 500.0))
    assert overlap(one, rectangle((998.0, 0.0), 0.0, 1000.0, 500.0))
