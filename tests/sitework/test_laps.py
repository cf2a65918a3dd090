"""The laps: stations, dimensions between plates, corners, plates at doorways, and every demo."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from site_plans import OUTER, demo_plan, drawn, each_demo, stood_in_order

from packseq.scenario.model import Opening
from packseq.sheet import Table, Ticks
from packseq.sitework.laps.anchors import RULES
from packseq.sitework.laps.lapdata import laps_document
from packseq.sitework.laps.lapsheets import lap_sections, laps_sheet
from packseq.sitework.laps.plates import PlateChoices
from packseq.sitework.laps.stations import Station, stations
from packseq.sitework.laps.strings import string_side
from packseq.sitework.laps.study import LapChoices, Laps, study_laps
from packseq.sitework.readings.file import read_readings
from packseq.sitework.readings.tasks import job_of
from packseq.sitework.readings.tolerances import SETS
from packseq.sitework.setout import Choices

CHOICES = LapChoices(PlateChoices(RULES["nz-drilled"], RULES["nz-drilled"]))


@cache
def demo_laps(name: str) -> Laps:
    return study_laps(demo_plan(name), CHOICES)


def read_at(length: float, *marks: float) -> list[int]:
    return [round(each.at_mm) for each in stations(length, [Station(at, "join") for at in marks])]


def test_stations_between_two_packers() -> None:
    assert read_at(2500) == []
    assert read_at(2501) == [1250]  # 2501 in two parts
    assert read_at(9000, 3900) == [1950, 3900, 5600, 7300]  # 3900 in two, 5100 in three of 1700
    assert read_at(3000, 299, 1500, 1799, 2701) == [1500]  # nearer than 300 to an end or to the one before


def box_with_room() -> Laps:
    """Return the box of 6 m with a wall from north to south, its faces 2000 from the west wall's."""
    lines = {**OUTER, "P": (2135.0, 90.0, 2135.0, 5910.0)}
    door = Opening("door", 1000, 900, 0, 2000)
    frames = {name: drawn(name, line, *((door,) if name == "S" else ())) for name, line in lines.items()}
    # The west wall is held open until the wall inside is in.
    done = stood_in_order([frames[name] for name in "SENPW"])
    assert done.kept
    return study_laps(done, CHOICES)


def test_an_internal_wall_is_measured_from_the_perimeter() -> None:
    # From the west wall's inner face at x 90 to the wall's west face at 2135 - 45 = 2090: 2000 mm.
    (level,) = box_with_room().levels
    (parallel,) = level.parallels
    assert [(taped.start_wall, taped.at_end, round(taped.mm)) for taped in parallel.taped] == [
        ("west wall", "south end", 2000),
        ("west wall", "north end", 2000),
    ]


def test_the_laps_begin_at_the_reference_wall_and_go_round() -> None:
    laps = box_with_room()
    (level,) = laps.levels
    names = [line.wall.name for line in level.lines]
    assert names[0] == "south wall"
    assert names[1:4] in (["east wall", "north wall", "west wall"], ["west wall", "north wall", "east wall"])
    assert {frozenset(pair) for pair in level.corners} == {
        frozenset(pair) for pair in ("SE", "EN", "NW", "WS")
    }
    assert [join.frames for join in level.junctions] == [("P", "S"), ("N", "P")]


def test_a_place_on_a_string_is_told_from_end_1_of_its_frame_too() -> None:
    # The north wall of the three-bedroom house, read from its west end: E12, E11, E10, 5 m each and drawn
    # from east to west, so that 12500 is 2500 along E10 and 2500 from its end 1; 4000 would be 1000 from
    # that of E12.
    laps = demo_laps("three-bedroom")
    north = next(line for line in laps.levels[0].lines if line.wall.name == "north wall")
    for read in north.bottom:
        from_west = read.station.at_mm if north.hook == "west end" else 15000 - read.station.at_mm
        x = laps.job.house.scenario.frames[read.frame].start[0] - read.from_end_1_mm
        assert x == pytest.approx(from_west)


def test_a_plate_stops_at_a_doorway_and_keeps_off_the_edge_of_the_slab() -> None:
    # The door from 1000 to 1900: plates 0-1000 and 1900-6000. The south frame's face is flush with the
    # slab: its middle is 45 from the edge, the rule has 50, so 50 in from the outer face.
    (level,) = box_with_room().levels
    south = [plate for plate in level.plates if plate.frame == "S"]
    assert [(plate.begins_mm, plate.ends_mm) for plate in south] == [(0, 1000), (1900, 6000)]
    assert {(plate.from_outside_mm, plate.edge_mm) for plate in south} == {(50, 50)}
    assert south[0].fixings_mm is not None
    # 150 from the end, and one beside the strapped stud at 1000: 865.
    assert south[0].fixings_mm == pytest.approx((150, 865))


def strings(laps: Laps) -> list[Table]:
    lap = lap_sections(laps, 1)[1]
    return [part for part in lap.parts if isinstance(part, Table)]


def test_a_string_has_its_limit_over_the_length_of_its_wall() -> None:
    # NZS 3604 table 2.1, from memory: 5 mm in 10 m, more over more. The north wall of the three-bedroom house
    # is 15 m: 7.5 mm; the west wall, 8.22 m: 5 mm.
    titles = [table.title for table in strings(demo_laps("three-bedroom"))]
    north, west = (next(title for title in titles if title.startswith(wall)) for wall in ("north", "west"))
    assert north.endswith("string on its north; within 7.5 mm of the gauge")
    assert west.endswith("string on its west; within 5.0 mm of the gauge")


def test_the_string_of_an_internal_wall_is_where_the_file_of_readings_has_it(tmp_path: Path) -> None:
    # What the sheet says in its last column, read back as a file: 8 mm too far from the string moves each
    # frame toward the side that the sheet names.
    laps = demo_laps("three-bedroom")
    rows = []
    sides = []
    for line, table in zip(
        [line for line in laps.levels[0].lines if line.bottom], strings(laps), strict=True
    ):
        side = table.title.partition("string on its ")[2].partition(";")[0]
        for *_, place in table.rows:
            frame, _, rest = place.partition(" at ")
            at_mm, _, told = rest.partition(", ")
            rows.append(f"line,{frame},{at_mm},33,25,{told}")
            sides.append(side)
        assert side == string_side(line.wall)
    file = tmp_path / "readings.csv"
    file.write_text("check,where,at_mm,reading_mm,gauge_mm,side\n" + "\n".join(rows), encoding="utf-8")
    job = job_of(laps.job.house, Choices())
    readings = read_readings(file, job).readings
    assert [each.task.if_more.rpartition(" ")[2] for each in readings] == sides


def test_what_the_set_has_no_limit_for_is_said() -> None:
    laps = replace(demo_laps("garden-room"), choices=replace(CHOICES, limits=SETS["us-warranty"]))
    assert "has no limit for this" in repr(lap_sections(laps, 1)[1])
    assert "Limit (us-warranty, plumb): 9.525 mm in 812.8 mm" in repr(lap_sections(laps, 1)[4])


def test_leans_are_read_the_way_that_the_file_of_readings_has_them() -> None:
    # P goes from south to north, so left of its way is west; the outer frames lean out.
    (section,) = [each for each in lap_sections(box_with_room(), 1) if each.heading.startswith("Lap 6")]
    ticks = next(part for part in section.parts if isinstance(part, Ticks))
    assert [item.to_measure for item in ticks.items] == [
        ("P west mm in 2400", "S out mm in 2400"),
        ("N out mm in 2400", "P west mm in 2400"),
    ]


def test_a_strapped_stud_that_no_anchor_can_stand_beside_is_told() -> None:
    # A window from 300: its stud's anchor would stand at 150 to 165, and the hold-down stands at 100.
    window = Opening("window", 300, 900, 900, 2000)
    frames = [drawn(name, line, *((window,) if name == "S" else ())) for name, line in OUTER.items()]
    choices = LapChoices(replace(CHOICES.plates, hold_downs=frozenset({"S"})))
    laps = study_laps(stood_in_order(frames), choices)
    (south,) = [plate for plate in laps.levels[0].plates if plate.frame == "S"]
    hook = laps.tapes["S"].hook
    assert south.unheld_mm == ((300,) if hook == "west end" else (5700,))
    assert "ask before fixing: S " in repr(lap_sections(laps, 1)[2])


@each_demo
def test_every_plate_of_a_demo_keeps_the_rule(demo: str) -> None:
    laps = demo_laps(demo)
    rule = RULES["nz-drilled"]
    house = laps.job.house
    lowest = {name for name, frame in house.scenario.frames.items() if frame.level == 1}
    plates = laps.levels[0].plates
    assert {plate.frame for plate in plates} == lowest
    for plate in plates:
        assert plate.fixings_mm is not None
        inside = [place - plate.begins_mm for place in plate.fixings_mm]
        length = plate.ends_mm - plate.begins_mm
        assert 0 < inside[0] <= rule.end_most_mm
        assert 0 < length - inside[-1] <= rule.end_most_mm
        assert all(after - before <= rule.spacing_mm + 1e-6 for before, after in pairwise(inside))
    assert all(not level.plates for level in laps.levels[1:])


@each_demo
def test_every_join_and_wall_of_a_demo_is_in_the_laps(demo: str) -> None:
    laps = demo_laps(demo)
    house = laps.job.house
    assert sorted(join.frames for level in laps.levels for join in level.joins) == sorted(
        join.frames for join in house.joins
    )
    assert sorted(line.wall.name for level in laps.levels for line in level.lines) == sorted(
        run.name for run in house.runs
    )
    for level, own in zip(laps.levels, house.levels, strict=True):
        assert level.lines[0].frames in (own.reference, own.reference[::-1])
        for line in level.lines:
            for read in (line.bottom, line.top):
                ends = [0.0, *(each.station.at_mm for each in read), line.wall.length_mm]
                assert max(after - before for before, after in pairwise(ends)) <= 2500 + 1e-6


def test_dimensions_of_the_three_bedroom_house() -> None:
    # The pantry's north-south wall N20 is drawn at x 4155: its west face at 4110 - 90 (the west wall's inner
    # face) = 4020. The hall is 1000 wide: 5045 - 45 - (3955 + 45).
    level = demo_laps("three-bedroom").levels[0]
    found = {parallel.wall.frames: parallel.taped for parallel in level.parallels}
    assert {round(taped.mm) for taped in found["N20",]} == {4020}
    hall = found["N11", "N12", "N13"]
    assert {(taped.start_wall, round(taped.mm)) for taped in hall} == {("internal wall 12 (east-west)", 1000)}


def test_the_sheet_opens_with_cautions_and_never_says_safe() -> None:
    sheet = laps_sheet(demo_laps("three-bedroom"))
    assert "consented drawings" in sheet.cautions[1]
    assert "safe" not in repr(sheet).lower()
    assert [section.heading.partition(":")[0] for section in sheet.sections] == [
        f"Lap {number}" for number in range(1, 9)
    ]
    assert laps_document(demo_laps("three-bedroom"))["levels"][0]["plates"]
