from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_jobs import GARDEN, SCENARIOS, garden_with, run

FRAMES = (GARDEN / "frames.csv").read_bytes()
SITE = (GARDEN / "site.toml").read_bytes()
PACKS = (GARDEN / "packs.csv").read_bytes()


@pytest.mark.parametrize("name", sorted(folder.name for folder in SCENARIOS.iterdir()))
def test_every_demo_is_understood(capsys: pytest.CaptureFixture[str], name: str) -> None:
    answer = run(capsys, "check", SCENARIOS / name)
    assert (answer.exit_code, answer.err) == (0, "")
    assert answer.out.startswith(f"{name}: ")
    assert all(line == line.rstrip() for line in answer.out.splitlines())


def test_json_says_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    answer = run(capsys, "check", GARDEN, "--json")
    assert answer.exit_code == 0
    said = json.loads(answer.out)
    assert said["scenario"] == "garden-room"
    assert said["levels"][0]["reference"] == ["E1", "E2"]
    assert [frame["frame"] for frame in said["frames"]] == ["E1", "E2", "E3", "E4", "E5", "E6", "N1", "N2"]
    assert said["frames"][6]["joins"] == [
        {"kind": "tee", "frame": "E2"},
        {"kind": "tee", "frame": "E4"},
        {"kind": "tee", "frame": "N2"},
    ]
    assert said["packs"][0]["layers"][0] == {"layer": 1, "frames": ["N2"]}


@pytest.mark.parametrize(
    ("changed", "faults"),
    [
        ({"packs.csv": None}, ["packs.csv: is not in the folder"]),
        ({"frames.csv": b""}, ["frames.csv: is empty"]),
        ({"frames.csv": FRAMES.replace(b"E1", b"E\xff")}, ["frames.csv, row 2: byte", "is not UTF-8"]),
        ({"site.toml": SITE.decode().encode("utf-16")}, ["site.toml: is UTF-16; save it as UTF-8"]),
        ({"site.toml": SITE + b"\n[[lost"}, ["site.toml, row 37: cannot be read as TOML"]),
        ({"site.toml": SITE + b"\n[hue]\nred = 1\n"}, ["site.toml, hue: unknown key"]),
        ({"frames.csv": FRAMES.replace(b"mass_kg", b"kilos", 1)}, ["row 1: there is no column 'kilos'"]),
        ({"frames.csv": FRAMES.replace(b"2400", b"tall", 1)}, ["frames.csv, row 2, column height_mm"]),
        ({"packs.csv": PACKS.replace(b"N2", b"N9", 1)}, ["packs.csv, row 2", "'N9'"]),
        (
            {"frames.csv": FRAMES + b"N3,1,100,45,2900,45,2400,90,,\n", "packs.csv": PACKS + b"A,9,N3\n"},
            ["frames.csv, row 10, frame N3: N3 overlaps E1 (row 2)"],
        ),
        ({"packs.csv": PACKS + b"A,8,\x1b[31mX\n"}, ["row 10, column frame: there is no frame '\\x1b[31mX'"]),
    ],
    ids=[
        "missing file", "empty file", "not UTF-8", "UTF-16", "broken TOML", "unknown table", "unknown column",
        "not a number", "unknown frame", "frame on a frame", "control characters",
    ],
)  # fmt: skip
def test_a_bad_folder_is_told_on_standard_error(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, changed: dict[str, bytes | None], faults: list[str]
) -> None:
    answer = run(capsys, "check", garden_with(tmp_path, changed))
    assert (answer.exit_code, answer.out) == (1, "")
    for words in faults:
        assert words in answer.err
    assert "Traceback" not in answer.err
    assert "\x1b" not in answer.err


def test_every_fault_has_a_line_of_its_own(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    changed = {"frames.csv": FRAMES.replace(b"2400", b"tall", 2), "packs.csv": None}
    answer = run(capsys, "check", garden_with(tmp_path, changed), "--json")
    assert (answer.exit_code, answer.out) == (1, "")
    lines = answer.err.splitlines()
    assert len(lines) == 3
    assert [line.partition(",")[0].partition(":")[0] for line in lines] == [
        "frames.csv",
        "frames.csv",
        "packs.csv",
    ]


def test_no_folder_an_empty_one_and_a_file_are_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    missing = run(capsys, "check", tmp_path / "nowhere")
    assert missing.exit_code == 1
    assert missing.err.endswith("nowhere: there is no such folder\n")
    (tmp_path / "empty").mkdir()
    empty = run(capsys, "check", tmp_path / "empty")
    assert empty.exit_code == 1
    assert "site.toml: is not in the folder\n" in empty.err
    file = run(capsys, "check", GARDEN / "frames.csv")
    assert file.exit_code == 1
    assert "is a file, not a scenario folder" in file.err


def test_escape_codes_in_a_path_are_spelled_out(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    answer = run(capsys, "check", tmp_path / "\x1b[2Jgone\nfrom here")
    assert answer.exit_code == 1
    assert "\\x1b[2Jgone\\nfrom here: there is no such folder" in answer.err
    assert answer.err.count("\n") == 1


def test_a_crew_too_small_is_warned_of_and_not_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    folder = garden_with(tmp_path, {"site.toml": SITE.replace(b"people = 4", b"people = 3")})
    answer = run(capsys, "check", folder)
    assert answer.exit_code == 0
    assert "WARNING, crew-lift: N1 (82.0 kg) needs 4 people at 25 kg each; the crew has 3." in answer.out
