from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_jobs import GARDEN, run

from packseq.baseline import by_nearest
from packseq.house.derive import derive_house
from packseq.plan.file import plan_json
from packseq.scenario.read import read_scenario


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    plan = by_nearest(derive_house(read_scenario(GARDEN))).plan
    assert plan is not None
    file = tmp_path / "plan.json"
    file.write_text(plan_json(plan), encoding="utf-8")
    return file


def test_the_page_and_the_plan_drawing_are_written(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, plan_file: Path
) -> None:
    out, svg = tmp_path / "crew.html", tmp_path / "plan.svg"
    answer = run(capsys, "page", GARDEN, plan_file, "--out", out, "--svg", svg)
    assert (answer.exit_code, answer.out) == (0, "")
    assert out.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert svg.read_text(encoding="utf-8").startswith("<svg")
    assert str(out) in answer.err
    assert str(svg) in answer.err
    # The same plan gives the same page, byte for byte.
    again = tmp_path / "again.html"
    run(capsys, "page", GARDEN, plan_file, "--out", again)
    assert again.read_bytes() == out.read_bytes()


def test_an_existing_page_is_kept_and_then_nothing_is_written(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, plan_file: Path
) -> None:
    out, svg = tmp_path / "crew.html", tmp_path / "plan.svg"
    svg.write_text("mine", encoding="utf-8")
    answer = run(capsys, "page", GARDEN, plan_file, "--out", out, "--svg", svg)
    assert answer.exit_code == 1
    assert not out.exists()
    assert svg.read_text(encoding="utf-8") == "mine"
    assert run(capsys, "page", GARDEN, plan_file, "--out", out, "--svg", svg, "--force").exit_code == 0


def test_the_plan_is_never_replaced(capsys: pytest.CaptureFixture[str], plan_file: Path) -> None:
    before = plan_file.read_bytes()
    answer = run(capsys, "page", GARDEN, plan_file, "--out", plan_file, "--force")
    assert answer.exit_code == 1
    assert plan_file.read_bytes() == before


def test_page_and_drawing_in_one_file_is_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, plan_file: Path
) -> None:
    out = tmp_path / "both.html"
    answer = run(capsys, "page", GARDEN, plan_file, "--out", out, "--svg", out)
    assert answer.exit_code == 1
    assert not out.exists()


def test_a_plan_that_fails_its_check_gets_no_page(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, plan_file: Path
) -> None:
    document = json.loads(plan_file.read_text(encoding="utf-8"))
    document["moves"].pop()
    plan_file.write_text(json.dumps(document), encoding="utf-8")
    out = tmp_path / "crew.html"
    answer = run(capsys, "page", GARDEN, plan_file, "--out", out)
    assert answer.exit_code == 3
    assert not out.exists()


def test_nothing_asked_for_is_wrong_usage(capsys: pytest.CaptureFixture[str], plan_file: Path) -> None:
    assert run(capsys, "page", GARDEN, plan_file).exit_code == 2


def test_the_same_as_json(capsys: pytest.CaptureFixture[str], plan_file: Path) -> None:
    document = json.loads(run(capsys, "page", GARDEN, plan_file, "--json").out)
    assert len(document["states"]) == len(document["moves"]) + 1
    assert sorted(document["frames"]) == sorted(["E1", "E2", "E3", "E4", "E5", "E6", "N1", "N2"])
