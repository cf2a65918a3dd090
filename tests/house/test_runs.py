from __future__ import annotations

import math

import pytest
from sketch import Line, box, faults_of, sketch, texts

from packseq.geometry import Point
from packseq.house.derive import derive_house
from packseq.house.model import House, Run
from packseq.scenario.model import Scenario


def split_south(x: float = 3000.0, **more: Line) -> dict[str, Line]:
    """The 6 x 4 m box with its south wall in two frames, S and T."""
    return {**box(), "S": (0.0, 45.0, x, 45.0), "T": (x, 45.0, 6000.0, 45.0), **more}


def runs_of(scenario: Scenario) -> dict[tuple[str, ...], Run]:
    return {run.frames: run for run in derive_house(scenario).runs}


def names(house: House) -> list[str]:
    return [run.name for run in house.runs]


def test_frames_end_to_end_on_one_line_are_one_run_measured_from_end_to_end() -> None:
    run = runs_of(sketch(split_south()))["S", "T"]
    assert (run.name, run.length_mm, run.side, run.location) == ("south wall", 6000.0, "south", "external")


def test_a_run_is_whole_wherever_the_names_begin() -> None:
    # A, first by name, stands in the middle of the south wall.
    lines = {**box(), "S": (0.0, 45.0, 2000.0, 45.0), "A": (2000.0, 45.0, 4000.0, 45.0),
             "T": (4000.0, 45.0, 6000.0, 45.0)}  # fmt: skip
    assert ("S", "A", "T") in runs_of(sketch(lines))


def test_every_frame_belongs_to_exactly_one_run() -> None:
    lines = split_south(P=(3000.0, 90.0, 3000.0, 3910.0), Q=(90.0, 2000.0, 2955.0, 2000.0))
    house = derive_house(sketch(lines))
    assert sorted(name for run in house.runs for name in run.frames) == sorted(lines)


@pytest.mark.parametrize(("off_line", "one_run"), [(5.0, True), (5.1, False)])
def test_a_run_stays_within_5_mm_of_its_line(off_line: float, *, one_run: bool) -> None:
    # S, T and U: T stands off the line of the whole by that much; it runs parallel to it.
    lines = {
        **box(),
        "S": (0.0, 45.0, 2000.0, 45.0),
        "T": (2000.0, 45.0 + off_line, 4000.0, 45.0 + off_line),
        "U": (4000.0, 45.0, 6000.0, 45.0),
    }
    assert (("S", "T", "U") in runs_of(sketch(lines))) is one_run


@pytest.mark.parametrize(("degrees", "one_run"), [(0.099, True), (0.101, False)])
def test_a_run_turns_no_more_than_a_tenth_of_a_degree(degrees: float, *, one_run: bool) -> None:
    # 1000 mm at 0.1 degree is 1.7 mm: well within 5 mm of the line, so the turn alone decides.
    rise = 1000.0 * math.tan(math.radians(degrees))
    lines = split_south(5000.0, T=(5000.0, 45.0, 6000.0, 45.0 - rise))
    assert (("S", "T") in runs_of(sketch(lines))) is one_run


def test_a_corner_of_three_frames_makes_no_run_across_an_angle() -> None:
    assert {len(frames) for frames in runs_of(sketch(box()))} == {1}


def test_a_gap_does_not_make_one_run() -> None:
    lines = {**split_south(), "T": (3100.0, 45.0, 6000.0, 45.0)}
    found = runs_of(sketch(lines, gaps=(("S", "T"),)))
    assert {("S",), ("T",)} <= set(found)


def test_a_run_across_a_tee_needs_its_frames_to_touch() -> None:
    # P and Q stand on one line either side of R, 90 mm apart.
    lines = {**box(), "R": (3000.0, 90.0, 3000.0, 3910.0), "P": (90.0, 2000.0, 2955.0, 2000.0),
             "Q": (3045.0, 2000.0, 5910.0, 2000.0)}  # fmt: skip
    house = derive_house(sketch(lines))
    assert {("P",), ("Q",), ("R",)} <= {run.frames for run in house.runs}
    assert {join.kind for join in house.joins if "R" in join.frames and join.frames[0] in "PQ"} == {"cross"}


def test_internal_runs_are_listed_eastward_and_northward() -> None:
    lines = {**box(), "A": (5910.0, 2000.0, 3000.0, 2000.0), "B": (3000.0, 2000.0, 90.0, 2000.0),
             "C": (1000.0, 3910.0, 1000.0, 3000.0), "D": (1000.0, 3000.0, 1000.0, 2045.0)}  # fmt: skip
    assert names(derive_house(sketch(lines)))[4:] == [
        "internal wall 1 (east-west)", "internal wall 2 (north-south)",
    ]  # fmt: skip
    assert {("B", "A"), ("D", "C")} <= set(runs_of(sketch(lines)))


def test_walls_that_face_the_same_way_are_numbered_anticlockwise_from_the_reference_wall() -> None:
    # 9 x 7 m less the north-east 4 x 3 m: two walls face north and two face east.
    lines = {"S": (0.0, 45.0, 9000.0, 45.0), "E": (8955.0, 90.0, 8955.0, 4000.0),
             "M": (8910.0, 3955.0, 4910.0, 3955.0), "F": (4955.0, 4000.0, 4955.0, 7000.0),
             "N": (4910.0, 6955.0, 0.0, 6955.0), "W": (45.0, 6910.0, 45.0, 90.0)}  # fmt: skip
    assert names(derive_house(sketch(lines))) == [
        "south wall", "east wall 1", "north wall 1", "east wall 2", "north wall 2", "west wall",
    ]  # fmt: skip
    assert names(derive_house(sketch(lines, reference=("N",)))) == [
        "north wall 1", "west wall", "south wall", "east wall 1", "north wall 2", "east wall 2",
    ]  # fmt: skip


def test_a_site_wall_is_a_south_wall_or_an_east_wall() -> None:
    # Passed eastward a site wall faces south; passed northward it faces east.
    assert names(derive_house(sketch({"A": (0.0, 0.0, 3000.0, 0.0)}))) == ["south wall"]
    assert names(derive_house(sketch({"A": (0.0, 0.0, 0.0, 3000.0)}))) == ["east wall"]


def test_an_internal_wall_at_an_angle_says_how_it_lies() -> None:
    # From S's upper side at (1000, 90) at 45 degrees: the line is cut back half a thickness.
    half = 45 * 2**0.5 / 2
    lines = {**box(), "P": (1000.0, 90.0 + half, 3000.0, 2090.0 + half)}
    assert "internal wall 1 (north-east to south-west)" in names(derive_house(sketch(lines)))


def reference(scenario: Scenario) -> tuple[str, ...]:
    return derive_house(scenario).levels[0].reference


def test_the_reference_wall_is_the_longest_run_not_the_longest_frame() -> None:
    # N is one frame of 6000 mm; the west wall, 7820 mm, is two of 3910 mm.
    lines = {**box(6000.0, 8000.0), "V": (45.0, 4000.0, 45.0, 90.0), "W": (45.0, 7910.0, 45.0, 4000.0),
             "E": (5955.0, 90.0, 5955.0, 7000.0), "F": (5955.0, 7028.0, 5955.0, 7910.0)}  # fmt: skip
    # East and west tie at 7820 mm from end to end, F's 28 mm gap included: the smaller x.
    assert reference(sketch(lines)) == ("W", "V")


def test_a_tie_goes_to_the_smaller_y_and_lengths_are_compared_at_1_mm() -> None:
    # North and south wall: 6000 mm each but for 0.4 mm that makes N longer.
    lines = {**box(), "N": (6000.4, 3955.0, 0.0, 3955.0)}
    assert reference(sketch(lines)) == ("S",)
    assert reference(sketch({**lines, "N": (6000.6, 3955.0, 0.0, 3955.0)})) == ("N",)


def test_a_given_reference_wall_begins_the_perimeter_in_anticlockwise_order() -> None:
    house = derive_house(sketch(split_south(), reference=("T", "S")))
    assert house.levels[0].reference == ("S", "T")
    assert house.levels[0].perimeter == ("S", "T", "E", "N", "W")


def test_part_of_a_run_may_be_the_reference_wall() -> None:
    (level,) = derive_house(sketch(split_south(), reference=("T",))).levels
    assert (level.reference, level.perimeter) == (("T",), ("T", "E", "N", "W", "S"))
    assert derive_house(sketch(split_south(), reference=("T",))).runs[0].frames == ("S", "T")


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (("S", "P"), "P is internal: the reference wall is made of external frames"),
        (("S", "E"), "the reference wall must be one straight run; these frames lie in 2 runs: E / S"),
        (("S", "U"), "the reference wall must be unbroken: T left out, between S and U"),
    ],
)
def test_a_reference_wall_that_is_no_straight_run_is_refused(given: tuple[str, ...], expected: str) -> None:
    lines = split_south(
        2000.0,
        T=(2000.0, 45.0, 4000.0, 45.0),
        U=(4000.0, 45.0, 6000.0, 45.0),
        P=(3000.0, 90.0, 3000.0, 3910.0),
    )
    (fault,) = faults_of(sketch(lines, reference=given))
    assert (fault.file, fault.column, fault.text) == ("site.toml", "stand.reference", expected)


def test_a_site_wall_is_its_own_reference_wall_whole() -> None:
    lines = {"A": (0.0, 0.0, 3000.0, 0.0), "B": (3000.0, 0.0, 6000.0, 0.0)}
    assert texts(sketch(lines, reference=("B",))) == [
        "a site wall is its own reference wall, whole: A left out"
    ]
    assert reference(sketch(lines, reference=("B", "A"))) == ("A", "B")


def test_ends_of_the_reference_wall_are_where_the_arithmetic_says() -> None:
    house = derive_house(sketch(split_south()))
    frames = house.scenario.frames
    ends: tuple[Point, Point] = (frames["S"].start, frames["T"].end)
    assert math.dist(*ends) == house.run_of["S"].length_mm == 6000.0
