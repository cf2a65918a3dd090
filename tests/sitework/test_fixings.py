"""Fixings: needs by published rules, schedules against the house, deliveries against schedules, bad files."""

from __future__ import annotations

from pathlib import Path

import pytest
from site_plans import OUTER, demo_house, drawn, stood_in_order

from packseq.errors import InputError
from packseq.house.model import House
from packseq.scenario.model import Opening
from packseq.sitework.fixings.compare import Count
from packseq.sitework.fixings.defaults import external_walls, findings, hold_down, joint_kn
from packseq.sitework.fixings.files import read_bracing, read_delivered, read_schedule
from packseq.sitework.fixings.fixing import (
    FixingFiles,
    Fixings,
    PlateRules,
    fixings_document,
    fixings_sheet,
    study_fixings,
)
from packseq.sitework.fixings.model import Bracing, Delivered, Line, function_of
from packseq.sitework.laps.anchors import RULES

PLATES = PlateRules(RULES["nz-drilled"], RULES["nz-drilled"])


def box() -> House:
    """Return the box of 6 m with a window in the south frame and a wall across it from north to south."""
    window = Opening("window", 1000, 900, 900, 2000)
    lines = {**OUTER, "P": (3000.0, 90.0, 3000.0, 5910.0)}
    frames = [drawn(name, line, *((window,) if name == "S" else ())) for name, line in lines.items()]
    return stood_in_order(frames).job.house


def study(files: FixingFiles, house: House | None = None) -> Fixings:
    return study_fixings(house or box(), files, PLATES)


def totals(fixings: Fixings) -> dict[str, int]:
    return {count.what: count.needed for count in fixings.counts}


def test_needs_of_the_box_by_published_rules() -> None:
    # Four corners and two tees: 6 connectors. One external opening: 2 lintel straps, 2 stud straps.
    # Plates: S has 150, 865 (its window's), 2035 and 5850: 865 - 150 one step; 1170 in two; 3815 in five;
    # so 1 + 1 + 2 + 5 = 9 with the first. N 6000: 8. E, W and P 5820: 5520 / 900 = 6.1, so 7 steps and 8
    # each. Together 9 + 8 + 24 = 41.
    assert totals(study(FixingFiles())) == {
        "top-plate connector, 3 kN": 6,
        "lintel strap, 25 x 1 mm": 2,
        "stud strap, trimming stud to plate": 2,
        "proprietary bottom-plate anchor": 41,
    }


def test_a_bracing_wall_takes_hold_downs_and_stronger_joints() -> None:
    # P, 5.82 m, braces 582 units, 100 a metre: two hold-downs of 11 kN; its two joints take 2.4 x 5.82 =
    # 14 kN at the external walls, which is for the engineer.
    fixings = study(FixingFiles(bracing=(Bracing("P", 582),)))
    needed = totals(fixings)
    assert needed["hold-down, 11 kN"] == 2
    assert needed["top-plate connector by the engineer"] == 2
    assert [each.place for each in fixings.findings] == ["N/P", "P/S"]


@pytest.mark.parametrize(("per_m", "what"), [(100, 11), (120, 11), (121, 15), (150, 15)])
def test_hold_downs_by_bracing_units(per_m: float, what: int) -> None:
    # BRANZ at standards.govt.nz: typically 11 kN at each end for 120 units a metre, 15 kN for 150.
    assert hold_down(per_m) == f"hold-down, {what} kN"


@pytest.mark.parametrize(("units", "strength"), [(0, 3), (100, 3), (101, 6), (250, 6), (300, 7.2)])
def test_joints_of_a_bracing_wall(units: float, strength: float) -> None:
    # NZS 3604 8.7.3, assignment from memory: 3 kN up to 100 units, 6 above; 2.4 kN for each 100 at an
    # external wall, so 300 x 2.4 / 100 = 7.2.
    house = box()
    join = next(each for each in house.joins if each.frames == ("N", "P"))
    assert joint_kn(house, join, {"P": units}) == pytest.approx(strength)


def test_a_wall_that_braces_much_meets_two_external_walls() -> None:
    # Christchurch City Council, Go Ahead, May 2017: more than 125 bracing units, two external walls. P meets
    # the north and the south wall; in the three-bedroom house N24 ends in a room.
    assert len(external_walls(box(), "P")) == 2
    house = demo_house("three-bedroom")
    texts = [each.text for each in findings(house, [Bracing("N24", 126)])]
    assert any("fewer than two external walls" in text for text in texts)
    assert not any("two external" in each.text for each in findings(house, [Bracing("N24", 125)]))


def test_a_schedule_is_held_against_the_house() -> None:
    schedule = (
        Line("Nail plate, top plate 3 kN", "top plate", "corner", 1, 2),
        Line("Lintel strap", "lintel", "S", 2, 3),
        Line("Anchor", "anchor", "external plate", 1, 4),
    )
    fixings = study(FixingFiles(schedule=schedule))
    assert totals(fixings) == {"Nail plate, top plate 3 kN": 4, "Lintel strap": 2, "Anchor": 33}
    # The tees have no connector, the window's studs no strap, the internal wall no anchor; the lintel
    # strap for frame S counts for its window.
    left_out = {(each.function, each.places) for each in fixings.left_out}
    assert left_out == {
        ("top plate", ("N/P", "P/S")),
        ("stud", ("S window at 1000",)),
        ("anchor", ("P",)),
    }


@pytest.mark.parametrize(
    ("needed", "delivered", "verdict"),
    [
        (4, None, "not counted"),
        (4, 0, "missing"),
        (4, 3, "short"),
        (4, 4, "enough"),
        (4, 5, "over"),
        (0, 5, "not on the schedule"),
    ],
)
def test_deliveries(needed: int, delivered: int | None, verdict: str) -> None:
    assert Count("x", needed, delivered).verdict == verdict


def test_what_is_nowhere_on_the_schedule_is_told_with_the_nearest_name() -> None:
    schedule = (Line("Lintel strap", "lintel", "opening", 2, 2),)
    came = (Delivered("LINTEL  strap", 2), Delivered("Lintel straps", 7))
    fixings = study(FixingFiles(schedule=schedule, delivered=came))
    first, second = fixings.counts
    assert (first.what, first.delivered, first.verdict) == ("Lintel strap", 2, "enough")
    assert (second.what, second.near) == ("Lintel straps", "Lintel strap")


@pytest.mark.parametrize(
    ("what", "function"),
    [
        ("Top plate connector 6 kN", "top plate"),
        ("Lintel strap to stud", "lintel"),
        ("Stud strap", "stud"),
        ("HOLD DOWN 15 kN", "hold-down"),
        ("M12 anchor", "anchor"),
        ("Joist hanger", "other"),
    ],
)
def test_kinds_by_what_they_do(what: str, function: str) -> None:
    assert function_of(what) == function


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def faults(error: InputError) -> list[str]:
    return [str(fault) for fault in error.faults]


def test_files_are_read(tmp_path: Path) -> None:
    text = "note,how_many,where,what,function\n,2,TEE,Strap,top plate\nspare,1,s,Lintel strap,\n"
    assert read_schedule(write(tmp_path, "s.csv", text), ["S", "P"]) == (
        Line("Strap", "top plate", "tee", 2, 2),
        Line("Lintel strap", "lintel", "S", 1, 3),
    )
    came = write(tmp_path, "d.csv", "what,how_many\nStrap,3\nstrap ,4\n")
    assert read_delivered(came) == (Delivered("Strap", 7),)
    walls = write(tmp_path, "b.csv", "frame,bracing_units\np,120\n")
    assert read_bracing(walls, ["S", "P"]) == (Bracing("P", 120),)


def test_every_fault_of_a_schedule_is_told_at_once(tmp_path: Path) -> None:
    path = write(tmp_path, "s.csv", "what,where,how_many\nPlate,cornr,1\n,S,x\nPlate,S,-1\nPlate,S,1.5\n")
    with pytest.raises(InputError) as caught:
        read_schedule(path, ["S"])
    assert faults(caught.value) == [
        "s.csv, row 2, column where: there is no frame or kind of place 'cornr'; did you mean 'corner'?",
        "s.csv, row 3, column what: the name is not given",
        "s.csv, row 3, column how_many: 'x' is not a number",
        "s.csv, row 4, column how_many: '-1' must be from 0 to 1000",
        "s.csv, row 5, column how_many: '1.5' is not a whole number",
    ]


def test_a_bracing_frame_is_named_once(tmp_path: Path) -> None:
    path = write(tmp_path, "b.csv", "frame,bracing_units\nS,100\ns,120\nQ,1\n")
    with pytest.raises(InputError) as caught:
        read_bracing(path, ["S"])
    assert faults(caught.value) == [
        "b.csv, row 3, column frame: S is there twice",
        "b.csv, row 4, column frame: there is no frame 'Q'",
    ]


def test_the_default_schedule_says_so_and_the_sheet_never_says_safe() -> None:
    fixings = study(FixingFiles(), demo_house("three-bedroom"))
    sheet = fixings_sheet(fixings)
    assert "DEFAULT SCHEDULE" in repr(sheet.sections[0])
    assert "safe" not in repr(sheet).lower()
    assert fixings_document(fixings)["schedule"].startswith("default")
