from __future__ import annotations

from pathlib import Path

import pytest
from sitework_houses import demo

from packseq.errors import InputError
from packseq.sitework.readings.file import read_readings
from packseq.sitework.readings.form import readings_form
from packseq.sitework.readings.judge import judged
from packseq.sitework.readings.model import Judged, Readings
from packseq.sitework.readings.squareness import squareness
from packseq.sitework.readings.tasks import Job, job_of
from packseq.sitework.readings.tolerances import SETS, Limit, ToleranceSet
from packseq.sitework.setout import Choices

HEADER = "check,where,at_mm,reading_mm,gauge_mm,height_mm,side,level,note\n"


def garden() -> Job:
    return job_of(demo("garden-room"), Choices())


def read(tmp_path: Path, rows: str, job: Job | None = None) -> Readings:
    file = tmp_path / "readings.csv"
    file.write_text(HEADER + rows, encoding="utf-8")
    return read_readings(file, job or garden())


def results(tmp_path: Path, rows: str) -> tuple[Judged, ...]:
    return judged(read(tmp_path, rows).readings, SETS["nz-framing"])


def faults(tmp_path: Path, rows: str, job: Job | None = None) -> list[str]:
    with pytest.raises(InputError) as caught:
        read(tmp_path, rows, job)
    return [str(fault) for fault in caught.value.faults]


# E2 is the eastern half of the south wall: x 3000 to 6000; its outside is south. N1 stands across the room,
# from south (end 1) to north, so that its left is west.
@pytest.mark.parametrize(
    ("row", "to_do"),
    [
        # A gap of 33 to a string on packers of 25, outside: the plate lies 8 too far in.
        ("line,E2,1500,33,25,,,,", "push out 8 mm, south"),
        ("line,E2,1500,17,25,,,,", "pull in 8 mm, north"),
        ("line,E2,1500,33,25,,inside,,", "pull in 8 mm, north"),
        ("line,E2,1500,17,25,,inside,,", "push out 8 mm, south"),
        ("line,N1,1500,33,25,,left,,", "move 8 mm, west"),
        ("line,N1,1500,33,25,,right,,", "move 8 mm, east"),
        # The top leans 8 out: it comes in.
        ("plumb,E2,0,8,,,,,", "top plate in 8 mm, north"),
        ("plumb,E2,0,-8,,,,,", "top plate out 8 mm, south"),
        ("plumb,E2,0,8,,,inside,,", "top plate out 8 mm, south"),
        ("plumb,N1,0,8,,,,,", "top plate 8 mm, east"),
        # E2 goes from west to east: leaning east, back west.
        ("plumb-along,E2,0,8,,,,,", "top 8 mm, west"),
        ("level,E2,0,8,,,,,", "take down 8 mm"),
        ("level,E2,0,-8,,,,,", "pack up 8 mm"),
        # Line 1 lies at y 190, E2's inner face at 90, drawn 100 apart: 108 is 8 too far south.
        ("position,E2,0,108,,,,,", "move 8 mm, north, toward line 1"),
        ("position,E2,0,92,,,,,", "move 8 mm, south, away from line 1"),
        # N1's line lies at x 4210, east of it.
        ("position,N1,0,108,,,,,", "move 8 mm, east, toward line 5"),
    ],
)
def test_what_to_do_goes_the_right_way(tmp_path: Path, row: str, to_do: str) -> None:
    (done,) = results(tmp_path, row)
    assert done.to_do == to_do
    assert done.verdict == "fix"


def test_a_station_is_told_from_the_end_by_the_compass(tmp_path: Path) -> None:
    done = results(
        tmp_path, "level,E2,0,0,,,,,\nlevel,E2,3000,0,,,,,\nlevel,E2,600,0,,,,,\nlevel,E5,600,0,,,,,\n"
    )
    assert [each.reading.task.place for each in done] == [
        "at its west end",
        "at its east end",
        "0.6 m from its west end",
        "0.6 m from its east end",
    ]


# The limit is 5 mm and the reading is given or taken 1 mm: up to 4 passes, past 6 is to be fixed.
@pytest.mark.parametrize(
    ("reading", "verdict"),
    [
        (0, "pass"),
        (4, "pass"),
        (4.1, "re-check"),
        (5, "re-check"),
        (6, "re-check"),
        (6.1, "fix"),
        (-6.1, "fix"),
    ],
)
def test_a_reading_that_cannot_tell_is_to_be_measured_again(
    tmp_path: Path, reading: float, verdict: str
) -> None:
    (done,) = results(tmp_path, f"plumb,E2,0,{reading},,,,,")
    assert done.verdict == verdict
    assert (done.to_do == "") == (verdict == "pass")


def test_a_taller_reach_is_allowed_more_and_a_lower_one_the_same(tmp_path: Path) -> None:
    tall, low = results(tmp_path, "plumb,E2,0,0,,4800,,,\nplumb,E2,3000,0,,1200,,,\n")
    assert (tall.allowed_mm, low.allowed_mm) == (10, 5)


def test_the_worst_comes_first(tmp_path: Path) -> None:
    done = results(tmp_path, "plumb,E1,0,5,,,,,\nplumb,E2,0,9,,,,,\nplumb,E3,0,1,,,,,\nplumb,E4,0,-20,,,,,\n")
    assert [(each.reading.task.where, each.verdict) for each in done] == [
        ("E4", "fix"),
        ("E2", "fix"),
        ("E1", "re-check"),
        ("E3", "pass"),
    ]


def test_a_check_without_a_limit_is_told_all_the_same(tmp_path: Path) -> None:
    readings = read(tmp_path, "diagonal,1/2-4/3,,6790,,,,,\nplumb,E2,0,9,,,,,\n").readings
    done = judged(readings, SETS["nz-framing"])
    assert [each.verdict for each in done] == ["fix", "no limit"]
    assert done[1].to_do.startswith("6 mm long")
    only = judged(readings, ToleranceSet("own", {"diagonal": Limit(3)}))
    # A tape of 6.8 m is given or taken 3.4 mm, so 6 mm past a limit of 3 is not sure.
    assert [each.verdict for each in only] == ["re-check", "no limit"]


def test_diagonals_say_how_far_out_of_square(tmp_path: Path) -> None:
    # Sides 5620 and 3800, diagonal 6784.1: 8 mm apart is 8 x 6784.13 / (2 x 5620) = 4.829 over the 3800 side.
    rows = "diagonal,1/2-4/3,,6788,,,,,\ndiagonal,4/2 to 1/3,,6780,,,,1,\n"
    job = garden()
    (done,) = squareness(read(tmp_path, rows, job).readings, job)
    assert done.differ_mm == 8
    assert done.out_mm == pytest.approx(4.829, abs=5e-4)
    assert done.over_mm == pytest.approx(3800)


def test_one_diagonal_says_nothing_of_square(tmp_path: Path) -> None:
    job = garden()
    assert squareness(read(tmp_path, "diagonal,1/2-4/3,,6788,,,,,\n", job).readings, job) == ()


def test_diagonals_of_an_upper_level_have_their_level(tmp_path: Path) -> None:
    job = job_of(demo("two-level"), Choices())
    rows = "diagonal,1/2-4/3,,12450,,,,1,\ndiagonal,1/2-4/3,,10990,,,,2,\n"
    readings = read(tmp_path, rows, job).readings
    # 10420 x 6820 and 8620 x 6820: 12453.5 and 10991.7.
    assert [each.task.expected_mm for each in readings] == pytest.approx([12_453.5, 10_991.7], abs=0.05)


def test_blanks_are_listed_and_lose_nothing(tmp_path: Path) -> None:
    done = read(tmp_path, "plumb,E2,0,,,,,,\nplumb,E1,0,3,,,,,\n")
    assert done.blank == ((2, "plumb of E2"),)
    assert [each.row for each in done.readings] == [3]


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    told = faults(
        tmp_path,
        "line,E2,1500,6000,25,,,,\n"  # the gap and the station the wrong way round, or no gap at all
        "line,E2,1.5,27,25,,,,\n"  # the station in metres
        "line,E2,1500,0.025,25,,,,\n"  # the gap in metres
        "line,E2,1500,27,,,,,\n"  # no gauge
        "plumb,E99,0,3,,,,,\n"
        "plumb,E2,4000,3,,,,,\n"  # past the end of the frame
        "plumb,E2,0,3,25,,,,\n"  # a gauge for a plumb reading
        "bow,E2,0,3,,,,,\n"
        "plumb,E2,0,three,,,,,\n"
        "diagonal,1/2-9/9,,6780,,,,,\n"
        "diagonal,1/2-4/3,,6.784,,,,,\n"
        "plumb,E2,0,3,,,left,,\n",  # left, of an external frame
    )
    expected = [
        "row 2, column reading_mm, frame E2: 6000 mm, expected 25 mm: is it in mm, and of this place?",
        "row 3, column at_mm, frame E2: 1.5 mm from the end of the frame: is it in metres?",
        "row 4, column reading_mm, frame E2: 0.025 mm, expected 25 mm: is it in metres?",
        "row 5, column gauge_mm, frame E2: not given",
        "row 6, column where: there is no frame 'E99'",
        "row 7, column at_mm, frame E2: 4000 lies past the end of a frame 3000 mm long",
        "row 8, column gauge_mm, frame E2: does not belong to a plumb check",
        "row 9, column check, frame E2: must be one of line, plumb, plumb-along, level, position, diagonal",
        "row 10, column reading_mm, frame E2: 'three' is not a number",
        "row 11, column where: there is no diagonal '1/2-9/9'",
        "row 12, column reading_mm: 6.784 mm, expected 6784 mm: is it in metres?",
        "row 13, column side, frame E2: must be one of outside, inside",
    ]
    assert len(told) == len(expected)
    for said, wanted in zip(told, expected, strict=True):
        assert said.startswith(f"readings.csv, {wanted}"), said


def test_one_place_read_twice_is_told(tmp_path: Path) -> None:
    told = faults(tmp_path, "plumb,E2,0,3,,,,,\nplumb,e2,0,4,,,,,\nplumb,E2,0,4,,,inside,,\n")
    assert told == ["readings.csv, row 3, column where: is read in row 2 too; keep the one that holds"]


def test_a_file_without_any_reading_is_refused(tmp_path: Path) -> None:
    assert "no row has a reading" in faults(tmp_path, "plumb,E2,0,,,,,,\n")[0]


@pytest.mark.parametrize("name", ["garden-room", "three-bedroom", "l-shaped", "two-level"])
def test_the_empty_form_is_read_back(tmp_path: Path, name: str) -> None:
    job = job_of(demo(name), Choices())
    form = tmp_path / "form.csv"
    form.write_text(readings_form(job), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_readings(form, job)
    assert [fault.text for fault in caught.value.faults] == ["no row has a reading"]
    # One reading filled in, and the rest is blank.
    lines = readings_form(job).splitlines()
    place = next(number for number, line in enumerate(lines) if line.startswith("plumb,"))
    cells = lines[place].split(",")
    cells[3] = "2"
    lines[place] = ",".join(cells)
    form.write_text("\n".join(lines), encoding="utf-8")
    done = read_readings(form, job)
    assert len(done.readings) == 1
    assert len(done.blank) == len(lines) - 2
