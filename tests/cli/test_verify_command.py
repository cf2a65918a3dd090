from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_jobs import GARDEN, run, stand_in

from packseq.plan.file import plan_json, read_plan


@pytest.fixture
def sound(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Return a sound plan of the garden room: clockwise, four extra lifts."""
    stand_in(monkeypatch)
    out = tmp_path / "plan.json"
    assert run(capsys, "plan", GARDEN, "--out", out).exit_code == 0
    return out


def crossed(sound: Path) -> Path:
    """Return the plan with its first two moves crossed: E5 is lifted from under N2."""
    plan = read_plan(sound)
    first, second, *rest = plan.moves
    moves = (second.model_copy(update={"n": 1}), first.model_copy(update={"n": 2}), *rest)
    path = sound.with_name("crossed.json")
    path.write_text(plan_json(plan.model_copy(update={"moves": moves})), encoding="utf-8")
    return path


def test_a_sound_plan_is_passed(capsys: pytest.CaptureFixture[str], sound: Path) -> None:
    answer = run(capsys, "verify", GARDEN, sound)
    assert (answer.exit_code, answer.err) == (0, "")
    assert answer.out.startswith("plan.json keeps every rule of garden-room")
    assert "4 extra lifts, 90 m walked" in answer.out


def test_a_broken_plan_is_failed_by_rule_name(capsys: pytest.CaptureFixture[str], sound: Path) -> None:
    answer = run(capsys, "verify", GARDEN, crossed(sound))
    assert answer.exit_code == 3
    assert "top-of-pack" in answer.out
    assert "E5 is lifted from under N2 in pack A" in answer.out
    assert "other options" not in answer.out
    assert answer.err.startswith("crossed.json: fails its check: ")
    assert answer.err.count("\n") == 1


def test_a_failed_verdict_is_sound_json(capsys: pytest.CaptureFixture[str], sound: Path) -> None:
    answer = run(capsys, "verify", GARDEN, crossed(sound), "--json")
    assert answer.exit_code == 3
    said = json.loads(answer.out)
    assert said["kept"] is False
    assert {"move": 1, "rule": "top-of-pack", "text": "E5 is lifted from under N2 in pack A"} in said[
        "violations"
    ]
    assert said["cost"]["extra_lifts"] == 4


def test_options_that_the_plan_was_not_made_with_are_told(
    capsys: pytest.CaptureFixture[str], sound: Path
) -> None:
    assert read_plan(sound).direction == "clockwise"
    answer = run(capsys, "verify", GARDEN, sound, "--direction", "anticlockwise")
    assert answer.exit_code == 3
    assert "without --lap and --direction, nothing is wrong." in answer.out


def test_faults_of_scenario_and_plan_come_together(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    plan = tmp_path / "plan.json"
    plan.write_text("{", encoding="utf-8")
    answer = run(capsys, "verify", tmp_path / "nowhere", plan)
    assert (answer.exit_code, answer.out) == (1, "")
    first, second = answer.err.splitlines()
    assert first.endswith("nowhere: there is no such folder")
    assert second.startswith("plan.json: is not sound JSON")


def test_a_missing_plan_is_bad_input(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    answer = run(capsys, "verify", GARDEN, tmp_path / "plan.json")
    assert (answer.exit_code, answer.out) == (1, "")
    assert answer.err.startswith("plan.json: cannot be read")
