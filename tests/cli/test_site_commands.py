"""Lifts, braces, laps and fixings from the command line: tables, JSON, pages, and what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_jobs import GARDEN, garden_with, run, stand_in
from small_house import steps

from packseq.house.derive import derive_house
from packseq.plan.build import build_plan
from packseq.plan.file import plan_json
from packseq.scenario.read import read_scenario

BY_HAND = "N2>S1 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3"
"""The plan in the note of the garden room."""

COMMANDS = (
    ("lifts", "Lifting and wind", "A mass marked est."),
    ("braces", "Temporary braces", "Nobody lets go of a frame"),
    ("laps", "Laps", "Nobody lets go of a frame"),
    ("fixings", "Fixings", "The consented drawings"),
)
WITH_PLAN = {"braces", "laps"}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    house = derive_house(read_scenario(GARDEN))
    places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
    path = tmp_path / "plan.json"
    made = build_plan(house, steps(BY_HAND), spots=house.scenario.spots, places=places)
    path.write_text(plan_json(made), encoding="utf-8")
    return path


def arguments(command: str, plan: Path) -> list[str | Path]:
    return [command, GARDEN, plan] if command in WITH_PLAN else [command, GARDEN]


@pytest.mark.parametrize(("command", "title", "caution"), COMMANDS)
def test_the_sheet_opens_with_its_cautions(
    capsys: pytest.CaptureFixture[str], plan: Path, command: str, title: str, caution: str
) -> None:
    answer = run(capsys, *arguments(command, plan))
    assert (answer.exit_code, answer.err) == (0, "")
    lines = answer.out.splitlines()
    assert lines[0] == f"{title}: garden-room"
    assert lines[2] == "Cautions"
    assert lines[3].startswith(f"- {caution}")
    assert "safe" not in answer.out.lower()


@pytest.mark.parametrize(("command", "title", "_caution"), COMMANDS)
def test_the_same_as_json(
    capsys: pytest.CaptureFixture[str], plan: Path, command: str, title: str, _caution: str
) -> None:
    answer = run(capsys, *arguments(command, plan), "--json")
    document = json.loads(answer.out)
    assert document["sheet"] == title
    assert document["cautions"]


@pytest.mark.parametrize(("command", "title", "_caution"), COMMANDS)
def test_a_page_to_print(
    capsys: pytest.CaptureFixture[str], plan: Path, tmp_path: Path, command: str, title: str, _caution: str
) -> None:
    page = tmp_path / "sheet.html"
    answer = run(capsys, *arguments(command, plan), "--out", page)
    assert answer.exit_code == 0
    assert title in page.read_text(encoding="utf-8")
    again = run(capsys, *arguments(command, plan), "--out", page)
    assert again.exit_code == 1
    assert "exists and is kept" in again.err


@pytest.mark.parametrize("command", ["braces", "laps"])
def test_nothing_is_built_on_a_plan_that_breaks_a_rule(
    capsys: pytest.CaptureFixture[str], plan: Path, command: str
) -> None:
    text = plan.read_text(encoding="utf-8").replace('"people": 3', '"people": 2')
    plan.write_text(text, encoding="utf-8")
    answer = run(capsys, command, GARDEN, plan)
    assert (answer.exit_code, answer.out) == (3, "")
    assert "plan.json: " in answer.err


def test_a_plan_for_another_house_is_told_as_such_and_not_drowned(
    capsys: pytest.CaptureFixture[str], plan: Path
) -> None:
    answer = run(capsys, "braces", GARDEN.parent / "three-bedroom", plan)
    assert (answer.exit_code, answer.out) == (3, "")
    first, *others = answer.err.splitlines()
    assert first == "plan-file: plan.json: the plan is for garden-room, not for three-bedroom"
    assert len(others) <= 12
    assert others[-1].endswith("more; packseq verify lists every one")


def test_the_booklet_takes_the_options_of_its_parts(capsys: pytest.CaptureFixture[str], plan: Path) -> None:
    options = ("--spacing", "1500", "--tolerances", "us-framing", "--share-within", "0", "--stations", "1000")
    answer = run(capsys, "job", GARDEN, plan, *options, "--json")
    document = json.loads(answer.out)
    assert document["braces"]["choices"]["spacing_mm"] == 1500
    assert document["limits"]["name"] == "us-framing"
    assert document["setout"]["levels"][0]["reach_mm"] == 0
    assert document["laps"]["station_mm"] == 1000


def test_the_booklet_tells_the_faults_of_every_file_it_goes_by(
    capsys: pytest.CaptureFixture[str], plan: Path, tmp_path: Path
) -> None:
    schedule = tmp_path / "schedule.csv"
    schedule.write_text("what,where,how_many\nStrap,E77,1\n", encoding="utf-8")
    answer = run(capsys, "job", GARDEN, plan, "--schedule", schedule, "--tolerances", "nz-frame")
    assert answer.exit_code == 1
    assert "there is no frame or kind of place 'E77'" in answer.err
    assert "did you mean nz-framing?" in answer.err


def test_lifts_of_a_plan_come_in_its_order(capsys: pytest.CaptureFixture[str], plan: Path) -> None:
    answer = run(capsys, "lifts", GARDEN, "--plan", plan, "--gust", "9", "--json")
    lifts = json.loads(answer.out)["lifts"]
    assert [lift["frame"] for lift in lifts] == [step.frame for step in steps(BY_HAND)]


@pytest.mark.parametrize(
    ("option", "value"),
    [("--gust", "nan"), ("--hours", "9"), ("--reach", "-1"), ("--each", "0"), ("--grip", "firm")],
)
def test_numbers_that_cannot_be_are_refused(
    capsys: pytest.CaptureFixture[str], option: str, value: str
) -> None:
    answer = run(capsys, "lifts", GARDEN, option, value)
    assert answer.exit_code == 2
    assert option in answer.err


def test_faults_of_every_file_are_told_at_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    schedule, bracing = tmp_path / "schedule.csv", tmp_path / "bracing.csv"
    schedule.write_text("what,where,how_many\nStrap,E77,1\n", encoding="utf-8")
    bracing.write_text("frame,bracing_units\nE1,\n", encoding="utf-8")
    missing = tmp_path / "delivered.csv"
    answer = run(
        capsys, "fixings", GARDEN, "--schedule", schedule, "--bracing", bracing, "--delivered", missing
    )
    assert answer.exit_code == 1
    assert len(answer.err.splitlines()) == 3
    assert "schedule.csv, row 2, column where, frame" not in answer.err
    assert "delivered.csv: there is no such file" in answer.err


def test_a_broken_scenario_is_told_by_every_command(
    capsys: pytest.CaptureFixture[str], plan: Path, tmp_path: Path
) -> None:
    folder = garden_with(tmp_path, {"frames.csv": None})
    for command, *_ in COMMANDS:
        answer = run(capsys, command, folder, *([plan] if command in WITH_PLAN else []))
        assert answer.exit_code == 1
        assert "frames.csv: is not in the folder" in answer.err


def test_the_booklet_of_a_plan(capsys: pytest.CaptureFixture[str], plan: Path, tmp_path: Path) -> None:
    page = tmp_path / "job.html"
    answer = run(capsys, "job", GARDEN, plan, "--out", page)
    assert answer.exit_code == 0
    assert answer.out.startswith("The job in order: garden-room")
    assert "Lap 8" in page.read_text(encoding="utf-8")
    kept = run(capsys, "job", GARDEN, plan, "--out", page)
    assert kept.exit_code == 1
    document = json.loads(run(capsys, "job", GARDEN, plan, "--json").out)
    assert document["sheets"][-1] == "Final check and sign-off"


def test_a_booklet_without_a_plan_searches_for_one(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = stand_in(monkeypatch)
    answer = run(capsys, "job", GARDEN, "--limit", "7", "--json")
    assert answer.exit_code == 0
    assert [each.limit_s for each in asked] == [7]
    assert len(json.loads(answer.out)["moves"]) >= 8
