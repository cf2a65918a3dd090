"""The booklet: everything in its order, hold points, cautions, and figures that agree between sheets."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from site_plans import demo_house, demo_plan, each_demo

from packseq.sheet import Sheet, Table, Ticks
from packseq.sitework.booklet.booklet import Booklet, make_booklet
from packseq.sitework.booklet.choices import JobChoices
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.fixings.fixing import FixingFiles, PlateRules
from packseq.sitework.laps.anchors import RULES
from packseq.sitework.laps.plates import PlateChoices
from packseq.sitework.laps.study import LapChoices
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.readings.form import readings_form
from packseq.sitework.readings.tasks import job_of
from packseq.sitework.readings.tolerances import SETS
from packseq.sitework.setout import Choices

PLATES = PlateRules(RULES["nz-drilled"], RULES["nz-drilled"])
LAPS = LapChoices(PlateChoices(PLATES.external, PLATES.internal))
CHOICES = JobChoices(FixingFiles(), PLATES, LAPS, gust_m_per_s=8.0)

LAP_TITLES = [f"Lap {number}" for number in range(1, 9)]
ORDER = [
    "The job in order",
    "Slab check",
    "Set-out",
    "Delivery",
    "Temporary braces",
    "Lifting and wind",
    "Standing the frames",
    *LAP_TITLES[:7],
    "Readings",
    LAP_TITLES[7],
    "Fixings",
    "Final check and sign-off",
]


@cache
def booklet(name: str) -> Booklet:
    return make_booklet(demo_plan(name), CHOICES)


def tables(sheet: Sheet) -> list[Table]:
    return [part for section in sheet.sections for part in section.parts if isinstance(part, Table)]


def sheets_of(name: str, title: str) -> list[Sheet]:
    """Return the sheet of a title, one for each level where there are several."""
    return [sheet for sheet in booklet(name).sheets if sheet.title.partition(",")[0] == title]


def points_of(name: str) -> list[str]:
    headings = [section.heading for sheet in booklet(name).sheets for section in sheet.sections]
    return [heading.partition(": ")[2] for heading in headings if heading.startswith("Hold point: ")]


def test_the_sheets_come_in_the_order_of_the_job() -> None:
    titles = [sheet.title for sheet in booklet("garden-room").sheets]
    assert [title.partition(":")[0] for title in titles] == ORDER
    assert booklet("garden-room").document["sheets"] == titles


def test_a_floor_stands_and_is_released_before_the_next_is_begun() -> None:
    titles = [sheet.title.partition(":")[0] for sheet in booklet("two-level").sheets]
    begins = titles.index("Set-out, level 2")
    assert titles[begins - 2 : begins + 3] == [
        "Readings, level 1",
        "Level 1, lap 8",
        "Set-out, level 2",
        "Standing the frames, level 2",
        "Level 2, lap 1",
    ]
    points = points_of("two-level")
    assert points.index("Floor above, level 1") < points.index("Set-out, level 2")
    assert not any("Floor above" in point for point in points_of("garden-room"))


@each_demo
def test_every_sheet_of_a_demo_opens_with_cautions(demo: str) -> None:
    for sheet in booklet(demo).sheets:
        assert sheet.cautions, sheet.title
        assert "safe" not in repr(sheet).lower()


@each_demo
def test_every_hold_point_is_signed_once_in_its_order(demo: str) -> None:
    points = points_of(demo)
    assert points == [each["name"] for each in booklet(demo).document["hold_points"]]
    assert len(set(points)) == len(points)
    (listed,) = (
        table for table in tables(booklet(demo).sheets[0]) if table.columns[0].heading == "hold point"
    )
    assert [row[0] for row in listed.rows] == points
    for sheet in booklet(demo).sheets:
        for section in sheet.sections:
            if section.heading.startswith("Hold point: "):
                (ticks,) = section.parts
                assert isinstance(ticks, Ticks)
                assert ticks.items[0].to_measure == ("name", "date")


@each_demo
def test_the_stand_lists_are_the_plan(demo: str) -> None:
    done = demo_plan(demo)
    rows = [row for sheet in sheets_of(demo, "Standing the frames") for row in tables(sheet)[0].rows]
    assert [row[2] for row in rows] == [move.frame for move in done.plan.moves]
    assert [int(row[5]) for row in rows] == [move.people for move in done.plan.moves]


@each_demo
def test_every_brace_is_fixed_at_a_lift_of_the_stand_list(demo: str) -> None:
    rows = [row for sheet in sheets_of(demo, "Standing the frames") for row in tables(sheet)[0].rows]
    named = [name for row in rows for name in row[7].split(", ") if name.startswith("B")]
    braces = booklet(demo).document["braces"]["braces"]
    assert sorted(named) == sorted(brace["name"] for brace in braces)


@each_demo
def test_a_brace_over_the_line_of_a_frame_is_shifted_before_that_goes_up(demo: str) -> None:
    rows = [row for sheet in sheets_of(demo, "Standing the frames") for row in tables(sheet)[0].rows]
    told = {(name, row[2]) for row in rows for name in row[6].split(", ") if name}
    braces = booklet(demo).document["braces"]["braces"]
    assert told == {(brace["name"], frame) for brace in braces for frame in brace["crosses"]}


def test_some_brace_of_the_demos_lies_over_a_line() -> None:
    # So that the test above has something to find.
    assert any(brace["crosses"] for brace in booklet("two-level").document["braces"]["braces"])


def test_every_frame_is_on_the_delivery_sheet_once() -> None:
    (sheet,) = sheets_of("garden-room", "Delivery")
    scenario = demo_house("garden-room").scenario
    names = [row[1] for table in tables(sheet)[: len(scenario.packs)] for row in table.rows]
    assert sorted(names) == sorted(scenario.frames)


def test_a_landing_is_told_from_the_nearest_corner_of_the_slab() -> None:
    # The slab is 6000 x 4180 with its corner C1 at (0, 0); the pack lands at (3000, -2200) or thereabouts:
    # by hand from site.toml.
    (sheet,) = sheets_of("garden-room", "Delivery")
    landings = sheet.sections[0].parts[0]
    assert isinstance(landings, Ticks)
    place = demo_plan("garden-room").job.places["A"]
    assert f"{abs(place.at[1]):.0f} mm south of slab corner C" in landings.items[0].text
    assert "long side east to west (0 degrees from east)" in landings.items[0].text


def test_the_same_fixings_on_the_laps_and_the_schedule() -> None:
    document = booklet("garden-room").document
    plates = document["laps"]["levels"][0]["plates"]
    places = sum(len(plate["fixings_mm"]) for plate in plates)
    (anchors,) = [each for each in document["fixings"]["counts"] if "anchor" in each["what"]]
    assert anchors["needed"] == places


def test_the_readings_on_paper_are_those_of_the_form() -> None:
    # Every position and every lean that the empty file asks for has a box, with the same figure beside it.
    form = [line.split(",") for line in readings_form(job_of(demo_house("garden-room"), Choices())).split()]
    (sheet,) = sheets_of("garden-room", "Readings")
    places, leans = tables(sheet)[1:]
    asked = {row[1] for row in form if row[0] == "position"}
    assert {row[0] for row in places.rows if row[4] == ""} == asked
    assert {row[0] for row in leans.rows} == {row[1] for row in form if row[0] == "plumb-along"}
    assert {row[3] for row in places.rows} == {"100"}


def test_what_is_chosen_reaches_every_sheet_and_is_named_on_the_first() -> None:
    choices = replace(
        CHOICES,
        laps=replace(LAPS, station_mm=1000.0, limits=SETS["us-framing"]),
        lines=Choices(250.0, 0.0),
        lifts=LiftChoices(each_kg=30.0, reach_mm=300.0),
        braces=BraceChoices(spacing_mm=1500.0, angle_deg=50.0),
        permanent_kn=(58.6,),
    )
    done = make_booklet(demo_plan("garden-room"), choices)
    document = done.document
    assert document["setout"]["levels"][0]["offset_mm"] == 250.0
    assert document["lifts"]["choices"]["each_kg"] == 30.0
    assert document["braces"]["choices"]["spacing_mm"] == 1500.0
    assert document["braces"]["temporary_kn"] == pytest.approx([35.16])
    assert document["laps"]["station_mm"] == 1000.0
    assert document["limits"]["name"] == "us-framing"
    told = {row[2]: row[1] for table in tables(done.sheets[0]) for row in table.rows if row[-1][:2] == "--"}
    assert told["--offset"] == "250 mm"
    assert told["--each"] == "30 kg"
    assert told["--spacing"] == "1500 mm"
    assert told["--permanent"] == "58.6 kN"
    assert told["--tolerances"] == "us-framing"
