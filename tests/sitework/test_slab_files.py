from __future__ import annotations

from pathlib import Path

import pytest
from sitework_houses import butted_box, demo, drawn, slab_of

from packseq.errors import InputError
from packseq.house.model import House
from packseq.sitework.slab.build import SlabFiles, base_of, read_slab
from packseq.sitework.slab.levels import Levels, read_levels
from packseq.sitework.slab.tapes import read_tapes
from packseq.sitework.slab.toread import pairs_to_measure, stations
from packseq.sitework.slab.tosheet import levels_form, tapes_form
from packseq.sitework.slabedges import corners_at

BOX = drawn(butted_box(9000, 6000), slab_of(9000, 6000))
NARROW = drawn(butted_box(15_000, 1500), slab_of(15_000, 1500))


def file_of(tmp_path: Path, text: str, name: str = "tapes.csv") -> Path:
    file = tmp_path / name
    file.write_text(text, encoding="utf-8")
    return file


def tape_faults(tmp_path: Path, rows: str, house: House = BOX) -> list[str]:
    file = file_of(tmp_path, f"from,to,measured_mm,sd_mm,note\n{rows}")
    with pytest.raises(InputError) as caught:
        read_tapes(file, corners_at(house.scenario.slab))
    return [str(fault) for fault in caught.value.faults]


def test_repeats_gaps_and_either_order_are_read(tmp_path: Path) -> None:
    file = file_of(tmp_path, "from,to,measured_mm\nC1,C2,9002\nc2,C1,9003\nC2,C3,\n")
    done = read_tapes(file, corners_at(BOX.scenario.slab))
    assert [(each.row, each.corners, each.measured_mm) for each in done.readings] == [
        (2, ("C1", "C2"), 9002.0),
        (3, ("C1", "C2"), 9003.0),
    ]
    assert done.blank == ((4, ("C2", "C3")),)
    # Reading both ends 1.5 mm; a tape of 9 m may be off 0.3 + 1.8 = 2.1: root of 1.5^2 + 2.1^2 / 3 = 1.929.
    assert done.readings[0].sd_mm == pytest.approx(1.929, abs=0.001)


def test_every_fault_of_the_tapes_is_told_at_once(tmp_path: Path) -> None:
    told = tape_faults(
        tmp_path,
        "C1,C9,9000,,\n"
        "C1,C1,9000,,\n"
        "C1,C2,9.002,,\n"  # metres
        "C2,C3,600.1,,\n"  # centimetres
        "C3,C4,29.53,,\n"  # feet: 9000 / 304.8 = 29.53
        "C1,C4,236.2,,\n"  # inches: 6000 / 25.4 = 236.2
        "C1,C3,9010,,\n"  # a side for a diagonal
        "C2,C4,long,,\n"
        "C2,C4,10817,0,\n",
    )
    expected = [
        "row 2, column to: there is no corner 'C9'",
        "row 3, column to: both ends are at C1",
        "row 4, column measured_mm: 9.002 mm from C1 to C2, drawn 9000 mm: is it in metres?",
        "row 5, column measured_mm: 600.1 mm from C2 to C3, drawn 6000 mm: is it in centimetres?",
        "row 6, column measured_mm: 29.53 mm from C3 to C4, drawn 9000 mm: is it in feet?",
        "row 7, column measured_mm: 236.2 mm from C1 to C4, drawn 6000 mm: is it in inches?",
        "row 8, column measured_mm: 9010 mm from C1 to C3, drawn 10817 mm: is it the right pair of corners",
        "row 9, column measured_mm: 'long' is not a number",
        "row 10, column sd_mm: '0' must be from 0.1 to 1000",
    ]
    assert len(told) == len(expected)
    for said, wanted in zip(told, expected, strict=True):
        assert said.startswith(f"tapes.csv, {wanted}"), said


def test_a_diagonal_no_longer_than_a_side_is_told(tmp_path: Path) -> None:
    # 15 m by 1.5 m: the diagonal is 15 074.8, close enough to the side to pass for it.
    told = tape_faults(tmp_path, "C1,C2,15000,,\nC2,C3,1500,,\nC1,C3,14995,,\n", NARROW)
    (only,) = told
    assert only == (
        "tapes.csv, row 4, column measured_mm: the diagonal C1 to C3, 14995 mm, is no longer than the side "
        "C1 to C2, 15000 mm (row 2)"
    )


def test_three_tapes_that_cannot_close_are_told(tmp_path: Path) -> None:
    # A corner in the middle of a straight side: the two halves are 100 short of the whole.
    slab = ((0.0, 0.0), (4500.0, 0.0), (9000.0, 0.0), (9000.0, 6000.0), (0.0, 6000.0))
    house = drawn(butted_box(9000, 6000), slab)
    told = tape_faults(tmp_path, "C1,C2,4450,,\nC2,C3,4450,,\nC1,C3,9000,,\n", house)
    (only,) = told
    assert only == (
        "tapes.csv, row 4, column measured_mm: C1 to C3 is 9000 mm, more than C1 to C2 and C2 to C3 together "
        "(row 2, row 3): one of the three is wrong"
    )


def test_sides_that_cannot_close_are_told(tmp_path: Path) -> None:
    # A slab as thin as a blade: three sides of 1000 against one of 3000, and the one comes out longer.
    slab = ((0.0, 0.0), (3000.0, 0.0), (2000.0, 60.0), (1000.0, 60.0))
    told = tape_faults(
        tmp_path,
        "C1,C2,3100,,\nC2,C3,1000,,\nC3,C4,1000,,\nC1,C4,1000,,\n",
        drawn(butted_box(9000, 6000), slab),
    )
    (only,) = told
    assert only == (
        "tapes.csv, row 2, column measured_mm: the sides cannot close: this one is longer than all others "
        "together, 3000 mm"
    )


def test_tapes_that_do_not_fix_the_corners_say_what_to_measure(tmp_path: Path) -> None:
    file = file_of(tmp_path, "from,to,measured_mm\nC1,C2,9000\nC2,C3,6000\nC3,C4,9000\nC1,C4,6000\n")
    with pytest.raises(InputError) as caught:
        read_slab(BOX, base_of(BOX), SlabFiles(file, None))
    assert [str(fault) for fault in caught.value.faults] == [
        "tapes.csv: C3, C4 are not fixed by these tapes; measure as well: C1 to C3"
    ]


def test_faults_of_both_files_are_told_together(tmp_path: Path) -> None:
    tapes = file_of(tmp_path, "from,to,measured_mm\nC1,C9,9000\n")
    heights = file_of(tmp_path, "frame,at_mm,staff_mm\nX,0,1200\n", "levels.csv")
    with pytest.raises(InputError) as caught:
        read_slab(BOX, base_of(BOX), SlabFiles(tapes, heights))
    assert {fault.file for fault in caught.value.faults} == {"tapes.csv", "levels.csv"}


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such file"):
        read_tapes(tmp_path / "none.csv", corners_at(BOX.scenario.slab))


def levels(tmp_path: Path, rows: str, header: str = "frame,at_mm,staff_mm") -> Levels:
    return read_levels(file_of(tmp_path, f"{header}\n{rows}", "levels.csv"), BOX, 1)


def level_faults(tmp_path: Path, rows: str, header: str = "frame,at_mm,staff_mm,height_mm") -> list[str]:
    with pytest.raises(InputError) as caught:
        levels(tmp_path, rows, header)
    return [str(fault) for fault in caught.value.faults]


def test_a_staff_reads_more_where_the_slab_is_low(tmp_path: Path) -> None:
    done = levels(tmp_path, "S,0,1200\nS,3000,1212\nS,6000,1206\n")
    # Heights -1200, -1212, -1206: mean -1206.
    assert [each.over_mean_mm for each in done.spots] == pytest.approx([6.0, -6.0, 0.0])
    assert [each.packing_mm for each in done.spots] == pytest.approx([0.0, 12.0, 6.0])
    assert [each.verdict(5.0) for each in done.spots] == ["high", "low", "level"]
    assert done.span_mm == pytest.approx(12.0)
    assert done.highest.station.at_mm == 0


def test_heights_read_the_other_way(tmp_path: Path) -> None:
    done = levels(tmp_path, "S,0,12\nS,3000,0\n", "frame,at_mm,height_mm")
    assert [each.packing_mm for each in done.spots] == pytest.approx([0.0, 12.0])


def test_every_fault_of_the_levels_is_told_at_once(tmp_path: Path) -> None:
    told = level_faults(
        tmp_path,
        "S,0,1200,\nS,9100,1201,\nQ,0,1200,\nS,3000,1.2,\nS,0,1203,\nE,0,1200,5\nW,0,,\n",
    )
    expected = [
        "row 3, column at_mm, frame S: 9100 lies past the end of a frame 9000 mm long",
        "row 4, column frame: there is no frame 'Q'",
        "row 5, frame S: lies 1199 mm off the middle reading: is it in mm?",
        "row 6, column at_mm, frame S: this station is in row 2 too",
        "row 7, column height_mm, frame E: give staff_mm or height_mm, not both",
    ]
    assert len(told) == len(expected)
    for said, wanted in zip(told, expected, strict=True):
        assert said.startswith(f"levels.csv, {wanted}"), said


@pytest.mark.parametrize("name", ["garden-room", "three-bedroom", "l-shaped", "two-level"])
def test_the_empty_forms_are_read_back(tmp_path: Path, name: str) -> None:
    house = demo(name)
    base = base_of(house)
    for text, column in ((tapes_form(house, base), "measured_mm"), (levels_form(house), "staff_mm")):
        file = file_of(tmp_path, text, "form.csv")
        files = SlabFiles(file, None) if column == "measured_mm" else SlabFiles(None, file)
        with pytest.raises(InputError) as caught:
            read_slab(house, base, files)
        assert [fault.column for fault in caught.value.faults] == [column]


def test_what_is_asked_for_lies_on_the_slab_and_fixes_every_corner() -> None:
    house = demo("l-shaped")
    pairs = pairs_to_measure(house.scenario.slab, base_of(house).corners)
    # Six sides; of nine diagonals those past the inner corner C3 leave the slab: C1-C4, C2-C4 and C1-C5 do.
    assert len(pairs) == len(set(pairs)) == 11
    assert ("C2", "C4") not in pairs


def test_stations_are_at_ends_and_no_further_apart_than_they_may_be() -> None:
    places = [at_mm for frame, at_mm in stations(BOX, 1) if frame == "S"]
    # 9000 in 2500s is 3.6: four parts of 2250.
    assert places == [0, 2250, 4500, 6750, 9000]
