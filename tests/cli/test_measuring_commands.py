from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_jobs import GARDEN, run

TAPES = """\
from,to,measured_mm
C1,C2,6004
C2,C1,6003
C2,C3,4182
C3,C2,4181
C3,C4,6002
C4,C3,6003
C1,C4,4179
C4,C1,4178
C1,C3,7319
C3,C1,7318
C2,C4,7312
C4,C2,7340
"""
LEVELS = "frame,at_mm,staff_mm\nE1,0,1200\nE1,1500,1203\nE2,3000,1214\nE3,2000,1201\n"
READINGS = """\
check,where,at_mm,reading_mm,gauge_mm
line,E2,1500,33,25
plumb,E1,0,5,
position,E3,0,101,
"""


def written(folder: Path, name: str, text: str) -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize("command", ["setout", "slab", "readings"])
def test_tables_json_and_a_page_say_the_same_house(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, command: str
) -> None:
    shown = run(capsys, command, GARDEN)
    assert shown.exit_code == 0
    lines = shown.out.splitlines()
    assert lines[0].endswith("garden-room")
    assert lines[2] == "Cautions"
    page = tmp_path / "sheet.html"
    answer = run(capsys, command, GARDEN, "--json", "--out", page)
    assert answer.exit_code == 0
    document = json.loads(answer.out)
    assert document["scenario"] == "garden-room"
    assert document["cautions"]
    assert "<title>" in page.read_text(encoding="utf-8")
    assert f"The sheet is in {page}" in answer.err


def test_an_existing_page_is_kept(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    page = written(tmp_path, "sheet.html", "kept")
    answer = run(capsys, "setout", GARDEN, "--out", page)
    assert (answer.exit_code, answer.out) == (1, "")
    assert page.read_text(encoding="utf-8") == "kept"
    assert run(capsys, "setout", GARDEN, "--out", page, "--force").exit_code == 0
    assert page.read_text(encoding="utf-8") != "kept"


def test_the_set_out_is_drawn_on_its_page(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    page = tmp_path / "sheet.html"
    run(capsys, "setout", GARDEN, "--out", page)
    text = page.read_text(encoding="utf-8")
    assert "<svg" in text
    # Running dimensions of the drawing: N1's line and the far square line.
    assert ">4020<" in text
    assert ">5620<" in text


@pytest.mark.parametrize("option", ["--offset=nan", "--offset=5", "--share-within=-1"])
def test_distances_out_of_reason_are_wrong_usage(capsys: pytest.CaptureFixture[str], option: str) -> None:
    assert run(capsys, "setout", GARDEN, option).exit_code == 2


def test_the_slab_names_the_suspect_and_fits_the_frames(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    tapes, levels = written(tmp_path, "tapes.csv", TAPES), written(tmp_path, "levels.csv", LEVELS)
    answer = run(capsys, "slab", GARDEN, "--measured", tapes, "--levels", levels)
    assert answer.exit_code == 0
    flowing = " ".join(answer.out.split())
    assert "Suspect: C2 to C4, 7340 mm (row 13)" in flowing
    assert "Without it the others agree" in flowing
    assert "mark nothing from this before they do. Shift the whole set-out" in flowing
    assert "from the lowest to the highest 14 mm. The highest is E1 at 0: packing is up to there." in flowing
    data = json.loads(run(capsys, "slab", GARDEN, "--measured", tapes, "--levels", levels, "--json").out)
    assert data["measured"]["suspect_rows"] == [13]
    assert len(data["measured"]["fit"]["ends"]) == 8
    assert [each["packing_mm"] for each in data["levels"]["stations"]] == [0, 3, 14, 1]


def test_levels_alone_are_shown_alone(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    levels = written(tmp_path, "levels.csv", LEVELS)
    data = json.loads(run(capsys, "slab", GARDEN, "--levels", levels, "--json").out)
    assert data["measured"] is None
    assert data["levels"]["span_mm"] == 14


def test_forms_are_written_for_the_house(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    tapes, levels = tmp_path / "t.csv", tmp_path / "l.csv"
    answer = run(capsys, "slab", GARDEN, "--form", tapes, "--level-form", levels)
    assert answer.exit_code == 0
    # Four sides and two diagonals, each there and back.
    assert len(tapes.read_text(encoding="utf-8").splitlines()) == 1 + 12
    assert levels.read_text(encoding="utf-8").startswith("frame,at_mm,staff_mm,note\nE1,0,,\n")
    readings = tmp_path / "r.csv"
    assert run(capsys, "readings", GARDEN, "--form", readings).exit_code == 0
    assert readings.read_text(encoding="utf-8").startswith("check,where,at_mm,reading_mm,")
    again = run(capsys, "readings", GARDEN, "--form", readings)
    assert again.exit_code == 1
    assert "kept" in again.err


def test_a_form_never_replaces_a_file_of_the_scenario(capsys: pytest.CaptureFixture[str]) -> None:
    before = (GARDEN / "frames.csv").read_bytes()
    answer = run(capsys, "slab", GARDEN, "--form", GARDEN / "frames.csv", "--force")
    assert answer.exit_code == 1
    assert (GARDEN / "frames.csv").read_bytes() == before


def test_readings_say_what_to_fix_first(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = written(tmp_path, "readings.csv", READINGS)
    answer = run(capsys, "readings", GARDEN, "--measured", file)
    assert answer.exit_code == 0
    flowing = " ".join(answer.out.split())
    assert "3 readings: fix 1, re-check 1, pass 1." in flowing
    assert "[ ] E2, line, 1.5 m from its west end: push out 8 mm, south" in flowing
    data = json.loads(run(capsys, "readings", GARDEN, "--measured", file, "--json").out)
    assert [each["verdict"] for each in data["readings"]] == ["fix", "re-check", "pass"]
    assert data["tolerances"]["name"] == "nz-framing"


def test_faults_of_limits_and_readings_are_told_together(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = written(tmp_path, "readings.csv", "check,where,at_mm,reading_mm\nplumb,E99,0,3\n")
    answer = run(capsys, "readings", GARDEN, "--measured", file, "--tolerances", "nowhere")
    assert (answer.exit_code, answer.out) == (1, "")
    assert [line.split(":")[0] for line in answer.err.splitlines()] == [
        "nowhere",
        "readings.csv, row 2, column where",
    ]


@pytest.mark.parametrize("command", ["slab", "readings"])
def test_a_measured_file_that_is_not_there_is_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, command: str
) -> None:
    answer = run(capsys, command, GARDEN, "--measured", tmp_path / "none.csv")
    assert answer.exit_code == 1
    assert answer.err == "none.csv: there is no such file\n"
