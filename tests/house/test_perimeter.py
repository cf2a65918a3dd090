from __future__ import annotations

import pytest
from sketch import Line, box, faults_of, frame, jumbled, scenario_of, sketch, texts, turned

from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.model import Scenario, StandChoices

INNER = {"P": (3000.0, 90.0, 3000.0, 3910.0), "Q": (90.0, 2000.0, 2955.0, 2000.0)}


def l_shape() -> dict[str, Line]:
    """9 x 7 m with the north-east 4 x 3 m cut away; each wall starts clear of the one before it."""
    return {
        "S": (0.0, 45.0, 9000.0, 45.0),
        "E1": (8955.0, 90.0, 8955.0, 4000.0),
        "N1": (8910.0, 3955.0, 4910.0, 3955.0),
        "E2": (4955.0, 4000.0, 4955.0, 7000.0),
        "N2": (4910.0, 6955.0, 0.0, 6955.0),
        "W": (45.0, 6910.0, 45.0, 90.0),
    }


def garage() -> dict[str, Line]:
    """The box with a 2.4 m opening in its south wall."""
    return {**box(), "S": (0.0, 45.0, 1800.0, 45.0), "T": (4200.0, 45.0, 6000.0, 45.0)}


def angled_bay() -> dict[str, Line]:
    """A box whose south wall steps out in a bay: 45 degrees out, 2 m straight, 45 degrees back.

    Along the outside the bay's corners lie at (2000, 0), (2700, -700), (4700, -700) and (5400, 0).
    Lines lie 45 mm inside. B1 and B3 stop 90 / sqrt 2 = 64 mm short of the outer corners: their
    end faces then meet B2's inner corners (2700, -610) and (4700, -610) without lying on B2.
    """
    slant = 45 * 2**0.5 / 2
    return {
        **box(8000.0, 4000.0),
        "S": (0.0, 45.0, 2000.0, 45.0),
        "B1": (2000.0 + slant, slant, 2655.0 + slant, -655.0 + slant),
        "B2": (2700.0, -655.0, 4700.0, -655.0),
        "B3": (4745.0 - slant, -655.0 + slant, 5400.0 - slant, slant),
        "T": (5400.0, 45.0, 8000.0, 45.0),
    }


def one_level(scenario: Scenario) -> House:
    house = derive_house(scenario)
    assert len(house.levels) == 1
    return house


def test_a_box_with_two_rooms_is_derived_from_its_lines_alone() -> None:
    house = one_level(sketch({**box(), **INNER}))
    assert house.locations == {
        "S": "external", "E": "external", "N": "external", "W": "external", "P": "internal", "Q": "internal",
    }  # fmt: skip
    (level,) = house.levels
    assert (level.perimeter, level.closed, level.internals) == (("S", "E", "N", "W"), True, ("P", "Q"))
    assert house.touches == {
        "S": ("E", "P", "W"), "E": ("N", "S"), "N": ("E", "P", "W"), "W": ("N", "Q", "S"),
        "P": ("N", "Q", "S"), "Q": ("P", "W"),
    }  # fmt: skip


def test_locations_given_are_kept_and_only_blanks_derived() -> None:
    # P faces outdoors on no side, so it is not part of any ring; the given word stands and is refused.
    found = texts(sketch({**box(), **INNER}, external=["P"]))
    assert "S touches E, P and W in the perimeter: the perimeter branches here" in found
    # Without it the very same lines are a sound house.
    assert derive_house(sketch({**box(), **INNER}, internal=["P"])).locations["Q"] == "internal"


def test_an_internal_wall_whose_end_shows_through_the_outer_wall_stays_internal() -> None:
    # P pokes 60 mm out between S and T: 60 mm of its 1000 mm faces outdoors, less than half.
    lines = {**box(), "S": (0.0, 45.0, 2955.0, 45.0), "T": (3045.0, 45.0, 6000.0, 45.0),
             "P": (3000.0, -60.0, 3000.0, 940.0)}  # fmt: skip
    assert one_level(sketch(lines, gaps=(("S", "T"),))).levels[0].internals == ("P",)


@pytest.mark.parametrize("names", ["SENW", "ABCD", "ADCB", "BADC", "CDAB"])
def test_anticlockwise_whatever_the_names(names: str) -> None:
    lines = dict(zip(names, box().values(), strict=True))
    assert one_level(sketch(lines)).levels[0].perimeter == tuple(names)


def test_an_l_shape_goes_round_its_re_entrant_corner() -> None:
    house = one_level(sketch(l_shape()))
    assert house.levels[0].perimeter == ("S", "E1", "N1", "E2", "N2", "W")
    assert {join.kind for join in house.joins} == {"corner"}


def test_a_through_frame_that_carries_on_inside_belongs_to_the_perimeter() -> None:
    lines = l_shape()
    # N1 carries on west to the far wall: 3955 mm outdoors of 8865, so less than half, but more than 600 mm.
    lines["N1"] = (8910.0, 3955.0, 90.0, 3955.0)
    house = one_level(sketch(lines))
    assert house.levels[0].perimeter == ("S", "E1", "N1", "E2", "N2", "W")


def test_an_angled_bay_goes_round_at_45_degrees() -> None:
    house = one_level(sketch(angled_bay()))
    assert house.levels[0].perimeter == ("N", "W", "S", "B1", "B2", "B3", "T", "E")
    sides = {run.frames: run.side for run in house.runs}
    assert (sides[("B1",)], sides[("B2",)], sides[("B3",)]) == ("south-west", "south", "south-east")
    kinds = {join.frames: join.kind for join in house.joins}
    assert {kinds[pair] for pair in (("B1", "S"), ("B1", "B2"), ("B2", "B3"), ("B3", "T"))} == {"corner"}


@pytest.mark.parametrize("degrees", [17.0, 45.0, 90.0, 222.5])
def test_a_turned_house_is_the_same_house(degrees: float) -> None:
    lines = {}
    for name, (x1, y1, x2, y2) in {**l_shape(), "P": (3000.0, 90.0, 3000.0, 6910.0)}.items():
        lines[name] = (*turned((x1, y1), degrees), *turned((x2, y2), degrees))
    house = one_level(sketch(lines))
    assert house.levels[0].perimeter == ("S", "E1", "N1", "E2", "N2", "W")
    assert house.levels[0].internals == ("P",)


def test_a_garage_gap_joins_neighbours_but_not_a_run() -> None:
    house = one_level(sketch({**garage(), **INNER, "P": (3000.0, 3000.0, 3000.0, 3910.0),
                              "Q": (90.0, 2955.0, 3045.0, 2955.0)}, gaps=(("T", "S"),)))  # fmt: skip
    assert house.locations["P"] == house.locations["Q"] == "internal"
    assert house.levels[0].perimeter == ("N", "W", "S", "T", "E")
    assert house.touches["S"] == ("T", "W")
    assert ("S", "T") not in {join.frames for join in house.joins}
    assert {("S",), ("T",)} <= {run.frames for run in house.runs}


def test_two_gaps_of_one_room_are_both_bridged() -> None:
    # Two garage doors with a pier between them: bridging either alone would leave the room open.
    lines = {**box(), "S": (0.0, 45.0, 500.0, 45.0), "M": (2900.0, 45.0, 3300.0, 45.0),
             "T": (5600.0, 45.0, 6000.0, 45.0), "P": (3000.0, 2000.0, 3000.0, 3910.0)}  # fmt: skip
    house = one_level(sketch(lines, gaps=(("S", "M"), ("M", "T"))))
    assert house.levels[0].perimeter == ("N", "W", "S", "M", "T", "E")
    assert house.levels[0].internals == ("P",)


def test_a_very_short_frame_is_gone_round_though_both_its_neighbours_touch() -> None:
    # A 25 mm packer between S and T: S and T are within the join gap of each other as well.
    lines = {**box(), "S": (0.0, 45.0, 3000.0, 45.0), "X": (3000.0, 45.0, 3025.0, 45.0),
             "T": (3025.0, 45.0, 6000.0, 45.0)}  # fmt: skip
    house = one_level(sketch(lines))
    assert "T" in house.touches["S"]
    assert house.levels[0].perimeter == ("S", "X", "T", "E", "N", "W")


@pytest.mark.parametrize(
    ("lines", "perimeter"),
    [
        ({"A": (0.0, 0.0, 3000.0, 0.0)}, ("A",)),
        ({"A": (6000.0, 0.0, 3000.0, 0.0), "B": (3000.0, 0.0, 0.0, 0.0)}, ("B", "A")),
        ({"A": (0.0, 6000.0, 0.0, 3000.0), "B": (0.0, 3000.0, 0.0, 0.0)}, ("B", "A")),
        ({"A": (0.4, 0.0, 0.0, 3000.0), "B": (0.0, 3000.0, 0.3, 6000.0)}, ("A", "B")),
        ({"A": (0.0, 6000.0, 3000.0, 3000.0), "B": (3000.0, 3000.0, 6000.0, 0.0)}, ("A", "B")),
    ],
)
def test_a_site_wall_runs_toward_larger_x_or_y(lines: dict[str, Line], perimeter: tuple[str, ...]) -> None:
    (level,) = one_level(sketch(lines)).levels
    assert (level.perimeter, level.reference, level.closed) == (perimeter, perimeter, False)


def test_a_site_wall_may_have_internal_frames_against_it() -> None:
    lines = {
        "A": (0.0, 0.0, 3000.0, 0.0),
        "B": (3000.0, 0.0, 6000.0, 0.0),
        "P": (1500.0, 45.0, 1500.0, 900.0),
    }
    (level,) = one_level(sketch(lines, internal=["P"])).levels
    assert (level.perimeter, level.internals, level.closed) == (("A", "B"), ("P",), False)


def two_levels(**choices: object) -> Scenario:
    upper = [frame(name, line, level=2) for name, line in box(4000.0, 6000.0, prefix="U").items()]
    return scenario_of([*(frame(name, line) for name, line in box().items()), *upper], **choices)


def test_each_level_has_its_own_joins_perimeter_and_reference_wall() -> None:
    # Upstairs east and west wall are the longest, 5820 mm each at the same y: the smaller x, so UW.
    house = derive_house(two_levels())
    assert [level.perimeter for level in house.levels] == [("S", "E", "N", "W"), ("UW", "US", "UE", "UN")]
    assert all({name[0] == "U" for name in join.frames} in ({True}, {False}) for join in house.joins)
    assert [run.name for run in house.runs if run.level == 2] == [
        "level 2 west wall", "level 2 south wall", "level 2 east wall", "level 2 north wall",
    ]  # fmt: skip


def test_a_reference_given_for_one_level_leaves_the_other_to_choose() -> None:
    house = derive_house(two_levels(stand=StandChoices(reference=("N",))))
    assert [level.reference for level in house.levels] == [("N",), ("UW",)]


def test_references_of_two_levels_are_given_in_one_list() -> None:
    house = derive_house(two_levels(stand=StandChoices(reference=("US", "W"))))
    assert [level.reference for level in house.levels] == [("W",), ("US",)]


@pytest.mark.parametrize("seed", range(5))
def test_the_order_in_the_file_and_the_ends_drawn_first_make_no_difference(seed: int) -> None:
    for lines in ({**l_shape(), "P": (3000.0, 90.0, 3000.0, 6910.0)}, angled_bay()):
        plain, mixed = derive_house(sketch(lines)), derive_house(jumbled(sketch(lines), seed))
        for part in ("locations", "joins", "runs", "levels", "touches"):
            assert getattr(mixed, part) == getattr(plain, part)


def test_an_open_perimeter_says_where_and_how_far() -> None:
    # T begins 140 mm past S's end: S would be 4000 + 140, or T 1860 + 140.
    # Inside, P and Q would face outdoors too, and are not blamed.
    lines = {**box(), **INNER, "S": (0.0, 45.0, 4000.0, 45.0), "T": (4140.0, 45.0, 6000.0, 45.0)}
    assert texts(sketch(lines)) == [
        f"{one} touches only {neighbour} in the perimeter: the perimeter is open here; S and T miss each "
        "other by 140 mm; is S 4,140 rather than 4,000 (x2_mm 4140)? Or is T 2,000 rather than 1,860 "
        "(x1_mm 4000)?"
        for one, neighbour in (("S", "W"), ("T", "E"))
    ]


def test_a_very_short_frame_is_not_blamed_for_an_opening_elsewhere() -> None:
    # The 25 mm packer X is touched past by S and T, so that each has three neighbours.
    lines = {**box(), "S": (0.0, 45.0, 3000.0, 45.0), "X": (3000.0, 45.0, 3025.0, 45.0),
             "T": (3025.0, 45.0, 6000.0, 45.0)}  # fmt: skip
    del lines["N"]
    assert [fault.frame for fault in faults_of(sketch(lines))] == ["E", "W"]


def test_a_missing_wall_leaves_two_open_ends() -> None:
    # Without N the free ends are E's and W's, 3910 mm up; 5820 mm clear between them.
    lines = {name: line for name, line in box().items() if name != "N"}
    faults = faults_of(sketch(lines))
    assert [(fault.frame, fault.row) for fault in faults] == [("E", 3), ("W", 4)]
    assert faults[0].text.endswith("(nearest external frame W is 5820 mm away)")


def test_a_wing_wall_marked_external_is_a_branch() -> None:
    lines = {**box(), "B": (3000.0, 0.0, 3000.0, -1500.0)}
    found = texts(sketch(lines))
    assert "S touches B, E and W in the perimeter: the perimeter branches here" in found
    assert any(text.startswith("B touches only S in the perimeter") for text in found)
    assert derive_house(sketch(lines, internal=["B"])).levels[0].perimeter == ("S", "E", "N", "W")


def test_a_courtyard_marked_external_is_refused() -> None:
    court = {"CS": (2000.0, 2045.0, 4000.0, 2045.0), "CE": (3955.0, 2090.0, 3955.0, 2910.0),
             "CN": (4000.0, 2955.0, 2000.0, 2955.0), "CW": (2045.0, 2910.0, 2045.0, 2090.0)}  # fmt: skip
    link = {"L": (3000.0, 90.0, 3000.0, 2000.0)}
    lines = {**box(6000.0, 5000.0), **court, **link}
    found = texts(sketch(lines, external=court))
    assert found == [f"{name} is external, but neither of its long sides faces outdoors" for name in court]
    assert derive_house(sketch(lines)).levels[0].internals == ("CE", "CN", "CS", "CW", "L")


def test_two_buildings_on_one_level_are_two_rings() -> None:
    other = {name: (x1 + 8000, y1, x2 + 8000, y2) for name, (x1, y1, x2, y2) in box(prefix="O").items()}
    (fault,) = faults_of(sketch({**box(), **other}))
    assert fault.text == (
        "OE, ON, OS and OW stand apart from the rest of the perimeter (E, N, S and W): "
        "a level has one way round"
    )
    assert fault.frame == "OE"


def test_a_frame_that_just_misses_another_asks_for_its_length() -> None:
    # R ends 100 mm short of the face of S (y = 90).
    (fault,) = faults_of(sketch({**box(), "R": (3000.0, 190.0, 3000.0, 2000.0)}))
    assert str(fault) == (
        "frames.csv, row 6, frame R: R touches no other frame of level 1; R and S miss each other by 100 mm; "
        "is R 1,910 rather than 1,810 (y1_mm 90)?"
    )


def test_a_frame_that_touches_nothing_names_the_nearest() -> None:
    # R stands 700 mm clear of S, too far for a slip.
    (fault,) = faults_of(sketch({**box(), "R": (3000.0, 790.0, 3000.0, 2000.0)}))
    assert fault.text == "R touches no other frame of level 1 (the nearest is S, 700 mm away)"


def test_an_island_of_internal_frames_is_named_whole() -> None:
    lines = {**box(), "J": (2000.0, 1000.0, 3000.0, 1000.0), "K": (2045.0, 1045.0, 2045.0, 2000.0)}
    (fault,) = faults_of(sketch(lines))
    # J's underside is at 955, S's upper side at 90.
    assert fault.text == (
        "J and K touch nothing but one another: no other frame of level 1 joins them "
        "(the nearest is S, 865 mm from J)"
    )


def test_a_level_without_external_frames_is_refused() -> None:
    assert texts(sketch(box(), internal=box())) == [
        "level 1 has no external frames, so nothing to measure from"
    ]


def test_a_gap_may_lie_between_the_first_and_the_last_by_name() -> None:
    lines = {{"S": "A", "T": "Z"}.get(name, name): line for name, line in garage().items()}
    assert one_level(sketch(lines, gaps=(("A", "Z"),))).levels[0].perimeter == ("N", "W", "A", "Z", "E")


@pytest.mark.parametrize(
    ("gaps", "expected"),
    [
        ((("S", "E"),), "S and E already touch: there is no gap between them"),
        ((("S", "N"),), "S and N are not neighbours in the perimeter"),
        ((("S", "P"),), "P is internal: a gap lies between two perimeter frames"),
    ],
)
def test_a_gap_that_is_none_is_refused(gaps: tuple[tuple[str, str], ...], expected: str) -> None:
    lines = {**box(), "P": (3000.0, 2000.0, 3000.0, 3910.0)}
    (fault,) = faults_of(sketch(lines, gaps=gaps))
    assert (fault.file, fault.column, fault.text) == ("site.toml", "gap[1].between", expected)


def test_a_gap_between_levels_is_refused() -> None:
    (fault,) = faults_of(two_levels(gaps=(("S", "UN"),)))
    assert fault.text == "S is on level 1 and UN on level 2: a gap lies between two frames of one level"


def test_every_fault_comes_in_one_go_rows_before_site() -> None:
    lines = {**box(), "R": (3000.0, 190.0, 3000.0, 2000.0), "V": (5000.0, 60.0, 5000.0, 2000.0)}
    found = faults_of(sketch(lines, gaps=(("S", "E"),), reference=("R",)))
    assert [(fault.file, fault.row, fault.column) for fault in found] == [
        ("frames.csv", 6, None),
        ("frames.csv", 7, None),
        ("site.toml", None, "gap[1].between"),
        ("site.toml", None, "stand.reference"),
    ]
