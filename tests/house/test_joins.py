from __future__ import annotations

import math

import pytest
from sketch import Line, faults_of, frame, sketch

from packseq.house.joins import find_joins, overlap_faults
from packseq.house.model import Join


def meet(first: Line, second: Line, **more: Line) -> dict[tuple[str, str], Join]:
    frames = [frame("A", first), frame("B", second), *(frame(name, line) for name, line in more.items())]
    return {join.frames: join for join in find_joins(frames, 30.0)}


def kind(first: Line, second: Line) -> str | None:
    join = meet(first, second).get(("A", "B"))
    return None if join is None else join.kind


def test_ends_that_face_each_other_on_one_line_are_inline() -> None:
    (join,) = meet((0, 0, 3000, 0), (3010, 0, 6000, 0)).values()
    assert (join.kind, join.at, join.gap_mm) == ("inline", (3005.0, 0.0), 10.0)


@pytest.mark.parametrize(("gap", "expected"), [(30.0, "inline"), (30.1, None)])
def test_frames_touch_up_to_the_join_gap_and_no_further(gap: float, expected: str | None) -> None:
    assert kind((0, 0, 3000, 0), (3000 + gap, 0, 6000, 0)) == expected


def test_a_butted_corner_is_a_corner() -> None:
    # B stands on A's end: its middle is 45 mm, half its thickness, from A's end.
    (join,) = meet((0, 0, 3000, 0), (2955, 45, 2955, 2000)).values()
    assert (join.kind, join.at) == ("corner", (2955.0, 45.0))


def test_a_frame_stops_being_a_corner_80_mm_from_the_end() -> None:
    # 45 (half of 90) + 30 (join gap) + 5 = 80 mm from A's end at x = 3000.
    assert kind((0, 0, 3000, 0), (2921, 45, 2921, 2000)) == "corner"
    assert kind((0, 0, 3000, 0), (2919, 45, 2919, 2000)) == "tee"


def test_an_end_against_a_side_is_a_tee_at_any_angle() -> None:
    assert kind((0, 0, 3000, 0), (1500, 45, 1500, 2000)) == "tee"
    # At 45 degrees: B's lower corner lies on A's side, 1500 + 45 sin 45 = 1532 along, 45 up.
    half = 45 * 2**0.5 / 2
    assert kind((0, 0, 3000, 0), (1500, 45 + half, 2500, 1045 + half)) == "tee"


def test_a_bay_at_45_degrees_is_a_corner() -> None:
    # Outer edges meet at (3000, -45): B's right side starts there and its line 45 mm left of it.
    half = 45 * 2**0.5 / 2
    assert kind((0, 0, 3000, 0), (3000 - half, half, 3000 - half + 900, half + 900)) is not None
    assert kind((0, 0, 2950, 0), (3000 - half, -45 + half, 3900 - half, 855 + half)) == "corner"


@pytest.mark.parametrize(
    ("degrees", "reach"),
    [
        pytest.param(45.0, 98.6, id="45 / sin 45 + 35 = 98.6 mm"),
        pytest.param(20.0, 125.0, id="measured as at 30 degrees: 45 * 2 + 35 = 125 mm"),
    ],
)
def test_a_frame_at_an_angle_is_at_an_end_further_from_it(degrees: float, reach: float) -> None:
    # B goes off to the right of its lower corner, which stands on A's side that far from A's end 1.
    angle = math.radians(degrees)
    for offset, expected in ((-1.5, "corner"), (1.5, "tee")):
        x, y = reach + offset - 45 * math.sin(angle), 45 + 45 * math.cos(angle)
        line = (x, y, x + 2000 * math.cos(angle), y + 2000 * math.sin(angle))
        assert kind((0, 0, 3000, 0), line) == expected


def test_two_tees_opposite_each_other_are_a_cross() -> None:
    joins = meet((0, 0, 3000, 0), (1500, 45, 1500, 2000), C=(1530, -45, 1530, -2000))
    assert {pair: join.kind for pair, join in joins.items()} == {("A", "B"): "cross", ("A", "C"): "cross"}


@pytest.mark.parametrize(
    "other",
    [
        pytest.param((1546, -45, 1546, -2000), id="opposite, but more than half a thickness further on"),
        pytest.param((1600, 45, 1600, 2000), id="on the same side"),
    ],
)
def test_two_tees_elsewhere_are_no_cross(other: Line) -> None:
    joins = meet((0, 0, 3000, 0), (1500, 45, 1500, 2000), C=other)
    assert {joins["A", "B"].kind, joins["A", "C"].kind} == {"tee"}


def test_parallel_frames_against_each_other_are_side_by_side() -> None:
    assert kind((0, 0, 3000, 0), (1000, 100, 2000, 100)) == "side by side"


def test_two_thicknesses_flush_on_one_face_are_inline() -> None:
    thick = frame("B", (3000, 25, 6000, 25), thickness=140)
    (join,) = find_joins([frame("A", (0, 0, 3000, 0)), thick], 30.0)
    assert join.kind == "inline"


def test_a_wall_at_a_joint_of_a_run_tees_against_both_frames() -> None:
    joins = meet((0, 0, 3000, 0), (3000, 0, 6000, 0), C=(3000, 45, 3000, 2000))
    assert [join.kind for join in joins.values()] == ["inline", "tee", "tee"]


def test_walls_opposite_each_other_at_a_joint_of_a_run_are_crosses() -> None:
    joins = meet((0, 0, 3000, 0), (3000, 0, 6000, 0), C=(3000, 45, 3000, 2000), D=(3000, -45, 3000, -2000))
    assert [join.kind for join in joins.values()] == ["inline", "cross", "cross", "cross", "cross"]


def test_joins_are_sorted_whatever_the_order_of_the_frames() -> None:
    frames = [frame("B", (3000, 0, 6000, 0)), frame("C", (1500, 45, 1500, 900)), frame("A", (0, 0, 3000, 0))]
    assert [join.frames for join in find_joins(frames, 30.0)] == [("A", "B"), ("A", "C")]


def test_an_overlap_names_both_frames_both_rows_and_how_much() -> None:
    # B runs 60 mm into A over A's full thickness: 90 x 60 mm.
    frames = {"A": (0.0, 0.0, 3000.0, 0.0), "B": (2940.0, 0.0, 6000.0, 0.0)}
    (fault,) = [fault for fault in faults_of(sketch(frames, gaps=(("A", "B"),))) if "overlaps" in fault.text]
    assert (fault.file, fault.row, fault.frame) == ("frames.csv", 3, "B")
    # Either is 60 mm too long.
    assert fault.text == (
        "B overlaps A (row 2): 90 x 60 mm; is A 2,940 rather than 3,000 (x2_mm 2940)? "
        "Or is B 3,000 rather than 3,060 (x1_mm 3000)?"
    )


@pytest.mark.parametrize(("into", "count"), [(4.9, 0), (5.0, 1)])
def test_an_overlap_counts_when_it_holds_a_circle_5_mm_across(into: float, count: int) -> None:
    frames = [frame("A", (0, 0, 3000, 0)), frame("B", (3000 - into, 0, 6000, 0), row=3)]
    assert len(overlap_faults(frames)) == count
