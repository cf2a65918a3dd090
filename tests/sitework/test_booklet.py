"""The booklet: everything in its order, hold points, cautions, and figures that agree between sheets."""

from __future__ import annotations

from functools import cache

import pytest
from site_plans import DEMOS, demo_plan

from packseq.sheet import Sheet, Table, Ticks
from packseq.sitework.booklet.booklet import Booklet, JobChoices, make_booklet
from packseq.sitework.booklet.holdpoints import HOLD_POINTS
from packseq.sitework.fixings.fixing import FixingFiles, PlateRules
from packseq.sitework.laps.anchors import RULES

CHOICES = JobChoices(FixingFiles(), PlateRules(RULES["nz-drilled"], RULES["nz-drilled"]), 8.0)

ORDER = [
    "The job in order",
    "Slab check: what to measure",
    "Set-out",
    "Delivery",
    "Temporary braces",
    "Lifting and wind",
    "Standing the frames",
    *(f"Lap {number}" for number in range(1, 9)),
    "Fixings",
    "Final check and sign-off",
]


@cache
def booklet(name: str) -> Booklet:
    return make_booklet(demo_plan(name), CHOICES)


def tables(sheet: Sheet) -> list[Table]:
    return [part for section in sheet.sections for part in section.parts if isinstance(part, Table)]


def sheet_of(name: str, title: str) -> Sheet:
    return next(sheet for sheet in booklet(name).sheets if sheet.title == title)


def test_the_sheets_come_in_the_order_of_the_job() -> None:
    titles = [sheet.title for sheet in booklet("three-bedroom").sheets]
    assert [title.split(":")[0] if title.startswith("Lap") else title for title in titles] == ORDER
    assert booklet("three-bedroom").document["sheets"] == titles


@pytest.mark.parametrize("demo", DEMOS)
def test_every_sheet_of_a_demo_opens_with_cautions(demo: str) -> None:
    for sheet in booklet(demo).sheets:
        assert sheet.cautions, sheet.title
        assert "safe" not in repr(sheet).lower()


def test_every_hold_point_is_signed_once_on_its_sheet() -> None:
    sections = [section for sheet in booklet("three-bedroom").sheets for section in sheet.sections]
    signed = [section for section in sections if section.heading.startswith("Hold point: ")]
    assert [section.heading for section in signed] == [f"Hold point: {point.name}" for point in HOLD_POINTS]
    for section in signed:
        (ticks,) = section.parts
        assert isinstance(ticks, Ticks)
        assert ticks.items[0].to_measure == ("name", "date")


@pytest.mark.parametrize("demo", DEMOS)
def test_the_stand_list_is_the_plan(demo: str) -> None:
    done = demo_plan(demo)
    (table,) = tables(sheet_of(demo, "Standing the frames"))
    assert [row[2] for row in table.rows] == [move.frame for move in done.plan.moves]
    assert [int(row[5]) for row in table.rows] == [move.people for move in done.plan.moves]


@pytest.mark.parametrize("demo", DEMOS)
def test_every_brace_is_fixed_at_a_lift_of_the_stand_list(demo: str) -> None:
    (table,) = tables(sheet_of(demo, "Standing the frames"))
    named = [name for row in table.rows for name in row[6].split(", ") if name.startswith("B")]
    braces = [brace["name"] for brace in booklet(demo).document["braces"]["braces"]]
    assert sorted(named) == sorted(braces)


def test_every_frame_is_on_the_delivery_sheet_once() -> None:
    sheet = sheet_of("three-bedroom", "Delivery")
    names = [row[1] for table in tables(sheet)[:3] for row in table.rows]
    assert sorted(names) == sorted(demo_plan("three-bedroom").job.house.scenario.frames)


def test_the_same_fixings_on_the_laps_and_the_schedule() -> None:
    document = booklet("three-bedroom").document
    plates = document["laps"]["levels"][0]["plates"]
    places = sum(len(plate["fixings_mm"]) for plate in plates)
    (anchors,) = [each for each in document["fixings"]["counts"] if "anchor" in each["what"]]
    assert anchors["needed"] == places
