from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from cli_jobs import GARDEN, SCENARIOS, garden_with, run


def root_of(file: Path) -> ET.Element:
    return ET.fromstring(file.read_text(encoding="utf-8"))  # noqa: S314 - written by the code under test


def test_without_a_file_a_sketch_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    answer = run(capsys, "draw", GARDEN)
    assert answer.exit_code == 0
    lines = answer.out.splitlines()
    # The north wall: E5 with its window and E4, from corner to corner.
    assert any(line.strip().startswith("+-----====") and "+----" in line for line in lines)
    assert all(name in answer.out for name in ("pack A", "spot S1", "spot S2", "E6", "N2"))
    assert all(len(line) <= 100 for line in lines)


def test_the_drawing_is_written_and_kept(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = tmp_path / "plan.svg"
    assert run(capsys, "draw", GARDEN, "--out", out).exit_code == 0
    before = out.read_bytes()
    assert root_of(out).get("width", "").endswith("mm")
    again = run(capsys, "draw", GARDEN, "--out", out)
    assert (again.exit_code, out.read_bytes()) == (1, before)
    assert "kept" in again.err
    assert run(capsys, "draw", GARDEN, "--out", out, "--force").exit_code == 0


def test_each_level_has_a_file_of_its_own(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert run(capsys, "draw", SCENARIOS / "two-level", "--out", tmp_path / "plan.svg").exit_code == 0
    assert sorted(file.name for file in tmp_path.iterdir()) == ["plan-level-1.svg", "plan-level-2.svg"]
    # Where one of them would be kept, none is written.
    (tmp_path / "plan-level-1.svg").unlink()
    assert run(capsys, "draw", SCENARIOS / "two-level", "--out", tmp_path / "plan.svg").exit_code == 1
    assert [file.name for file in tmp_path.iterdir()] == ["plan-level-2.svg"]


def test_the_scenarios_own_files_are_never_replaced(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    folder = garden_with(tmp_path, {})
    answer = run(capsys, "draw", folder, "--out", folder / "frames.csv", "--force")
    assert answer.exit_code == 1
    assert "own files" in answer.err


def test_the_same_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    document = json.loads(run(capsys, "draw", SCENARIOS / "two-level", "--json").out)
    assert [level["level"] for level in document["levels"]] == [1, 2]
    assert all(level["svg"].startswith("<svg") and level["sketch"] for level in document["levels"])


def test_hostile_names_are_drawn_as_text(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    frames = (GARDEN / "frames.csv").read_bytes().replace(b"N2,", b"<img src=x>,")
    packs = (GARDEN / "packs.csv").read_bytes().replace(b"N2", b"<img src=x>")
    folder = garden_with(tmp_path, {"frames.csv": frames, "packs.csv": packs})
    out = tmp_path / "plan.svg"
    assert run(capsys, "draw", folder, "--out", out).exit_code == 0
    assert "<img src=x>" in {each.text for each in root_of(out).iter()}
