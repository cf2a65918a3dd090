from __future__ import annotations

import json
import re
import shlex
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from cli_jobs import GARDEN, Answer, run

from packseq.baseline import by_nearest
from packseq.house.derive import derive_house
from packseq.plan.file import plan_json
from packseq.plan.model import Plan
from packseq.scenario.read import read_scenario

ROOT = Path(__file__).parents[2]
Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return the garden room's plan by the crew that takes what lies nearest.

    N2>S2 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3: what the search finds too.
    """
    made = by_nearest(derive_house(read_scenario(GARDEN))).plan
    assert made is not None
    assert [move.frame for move in made.moves[:4]] == ["N2", "E5", "E4", "E2"]
    return made


@pytest.fixture
def plan_file(tmp_path: Path, plan: Plan) -> Path:
    file = tmp_path / "plan.json"
    file.write_text(plan_json(plan), encoding="utf-8")
    return file


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    return tmp_path / "day.jsonl"


def lines_in(journal: Path) -> list[dict[str, Any]]:
    return [json.loads(row) for row in journal.read_text(encoding="utf-8").splitlines()]


def record(capsys: Capture, journal: Path, *words: str | Path) -> Answer:
    return run(capsys, "record", GARDEN, *words, "--journal", journal)


def test_the_day_in_the_docs_goes_as_it_says(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    document = (ROOT / "docs" / "day.md").read_text(encoding="utf-8")
    (script,) = re.findall(r"```sh\n(.*?)```", document, re.DOTALL)
    (answer,) = re.findall(r"```text\n(.*?)```", document, re.DOTALL)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scenarios").symlink_to(ROOT / "scenarios")
    said = {}
    for command in script.splitlines():
        packseq, *words = shlex.split(command)
        assert packseq == "packseq"
        done = run(capsys, *words)
        assert done.exit_code == 0, done.err
        said[words[0]] = done.out
    assert answer in said["replan"]
    assert "keeps every rule" in said["verify"]
    assert "N1: damaged" in said["status"]
    assert (tmp_path / "crew-2.html").read_text(encoding="utf-8").startswith("<!doctype html>")


def test_the_first_line_says_which_house_and_the_next_step_is_told(
    capsys: Capture, journal: Path, plan_file: Path, plan: Plan
) -> None:
    answer = record(capsys, journal, "aside", "n2", "--spot", "s2", "--note", "easy", "--plan", plan_file)
    assert answer.exit_code == 0
    assert answer.out.splitlines() == [
        "Noted: N2 set aside on spot S2.",
        "0 of 8 frames stand.",
        "Next: set aside E5 on spot S2, from pack A, layer 2, 3 people.",
    ]
    begun, noted = lines_in(journal)
    assert (begun["event"], begun["scenario"]) == ("begun", "garden-room")
    assert begun["scenario_sha256"] == plan.scenario_sha256
    assert {key: noted[key] for key in ("event", "frame", "to", "note")} == {
        "event": "set aside",
        "frame": "N2",
        "to": {"spot": "S2"},
        "note": "easy",
    }
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d", noted["at"])


def test_every_event_can_be_noted_and_taken_back(capsys: Capture, journal: Path) -> None:
    for words in (
        "stood E2",
        "aside E1 --pack A",
        "missing N1",
        "damaged E4",
        "found E5 --pack A --layer 9",
        "found E6 --spot S1",
        "landed A --at -3000 -2000.5 --bearing -90",
        "crew 3",
        "undone crew",
        "undone landed a",
        "undone aside E1",
    ):
        answer = record(capsys, journal, *words.split())
        assert answer.exit_code == 0, (words, answer.err)
    status = json.loads(run(capsys, "status", GARDEN, "--journal", journal, "--json").out)
    assert status["stood"] == ["E2"]
    assert (status["missing"], status["damaged"], status["people"]) == (["N1"], ["E4"], 4)
    assert status["extra_lifts"] == 0
    pack, spot, _ = status["lies"]
    assert pack["layers"][-1] == {"layer": 9, "frames": ["E5"]}
    assert spot["layers"] == [{"layer": None, "frames": ["E6"]}]


@pytest.mark.parametrize(
    ("words", "exit_code", "said"),
    [
        ("stood E99", 1, "there is no frame 'E99'"),
        ("aside E1 --spot S7", 1, "there is no spot 'S7'"),
        ("landed Q --at 0 0", 1, "there is no pack 'Q'"),
        ("undone stood E1", 1, "there is no stood of it to take back"),
        ("fell E1", 2, "none of stood, aside"),
        ("stood", 2, "say one frame after stood"),
        ("stood E1 E2", 2, "say one frame after stood"),
        ("aside E1", 2, "say where"),
        ("aside E1 --spot S1 --pack A", 2, "say where"),
        ("found E1 --pack A", 2, "go together"),
        ("stood E1 --spot S1", 2, "stood does not take it"),
        ("landed A", 2, "say where its centre lies"),
        ("landed A --at nan 0", 2, "must lie within"),
        ("crew many", 2, "a whole number from 1 to 100"),
        ("crew 0", 2, "a whole number from 1 to 100"),
        ("undone crew 3", 2, "say nothing after undone crew"),
        ("undone E1", 2, "say what to take back"),
        ("undone stood", 2, "say one frame after undone stood"),
        (f"stood E1 --note {'x' * 201}", 2, "at most 200 characters"),
    ],
)
def test_what_makes_no_event_is_refused_and_nothing_is_noted(
    capsys: Capture, journal: Path, words: str, exit_code: int, said: str
) -> None:
    answer = record(capsys, journal, *words.split())
    assert answer.exit_code == exit_code
    assert said in " ".join(answer.err.split())
    assert not journal.exists()


def test_a_scenario_file_is_no_journal(capsys: Capture) -> None:
    answer = record(capsys, GARDEN / "frames.csv", "stood", "E2")
    assert answer.exit_code == 1
    assert "one of the scenario's own files" in answer.err
    assert "event" not in (GARDEN / "frames.csv").read_text(encoding="utf-8")


def test_a_torn_line_and_bad_lines_are_told_and_the_rest_counts(capsys: Capture, journal: Path) -> None:
    record(capsys, journal, "stood", "E2")
    with journal.open("ab") as stream:
        stream.write(b'not json\n{"format":1,"at":"2026-0')
    answer = run(capsys, "status", GARDEN, "--journal", journal)
    assert answer.exit_code == 0
    assert "day.jsonl, row 3: is not one sound JSON object; the line is left out" in answer.err
    assert "day.jsonl: the last line is torn and is left out" in answer.err
    assert "1 of 8 frames stand." in answer.out
    answer = record(capsys, journal, "stood", "E1")
    assert "2 of 8 frames stand." in answer.out
    assert "row 4" in run(capsys, "status", GARDEN, "--journal", journal).err


def test_a_plan_made_from_other_files_is_refused(capsys: Capture, journal: Path, plan_file: Path) -> None:
    text = plan_file.read_text(encoding="utf-8")
    plan_file.write_text(re.sub(r'(sha256": ")\w', r"\1x", text), encoding="utf-8")
    answer = record(capsys, journal, "stood", "E2", "--plan", plan_file)
    assert answer.exit_code == 1
    assert "was made from other files" in answer.err


def test_the_next_step_is_not_told_as_if_nothing_had_happened(
    capsys: Capture, journal: Path, plan_file: Path
) -> None:
    answer = record(capsys, journal, "missing", "N2", "--plan", plan_file)
    assert "It does not go as planned: N2 is missing." in answer.out
    answer = record(capsys, journal, "found", "N2", "--spot", "S1", "--plan", plan_file)
    assert "N2 lies in spot S1, the plan takes it from pack A layer 1." in " ".join(answer.out.split())


def test_status_counts_extra_lifts_against_the_plan(capsys: Capture, journal: Path, plan_file: Path) -> None:
    for words in ("aside N2 --spot S1", "aside N2 --spot S2", "aside E5 --spot S2"):
        record(capsys, journal, *words.split())
    status = run(capsys, "status", GARDEN, "--journal", journal, "--plan", plan_file, "--json")
    by_plan = json.loads(status.out)["by_plan"]
    # Three set-asides before E2 stands, four in all; N2 was carried once more than planned.
    assert by_plan["extra_lifts"] == {"so_far": 3, "planned_by_now": 3, "planned": 4}
    assert by_plan["done"] == [1, 2]
    assert [line["to"] for line in by_plan["unknown"]] == [{"spot": "S1"}]
    assert by_plan["next"]["move"]["frame"] == "E4"


def test_status_tells_about_when_the_last_frame_stands(
    capsys: Capture, journal: Path, plan_file: Path
) -> None:
    record(capsys, journal, "aside", "N2", "--spot", "S2")
    rows = [json.dumps(line | {"at": "2026-03-02T23:10:00+01:00"}) for line in lines_in(journal)]
    journal.write_text("\n".join(rows) + "\n", encoding="utf-8")
    words = ("status", GARDEN, "--journal", journal, "--plan", plan_file)
    by_plan = json.loads(run(capsys, *words, "--json").out)["by_plan"]
    left = timedelta(seconds=by_plan["time_left_s"])
    finish = datetime.fromisoformat("2026-03-02T23:10:00+01:00") + left
    assert timedelta(minutes=45) < left < timedelta(minutes=90)
    assert abs(datetime.fromisoformat(by_plan["finish_at"]) - finish) <= timedelta(minutes=1)
    told = " ".join(run(capsys, *words).out.split())
    # Past midnight the day is told too.
    assert re.search(r"Estimated finish: about 00:\d\d on 2026-03-03, .* noted at 23:10\.", told)


def test_a_frame_of_another_level_is_refused_on_a_pack(capsys: Capture, journal: Path) -> None:
    scenario = GARDEN.parent / "two-level"
    house = read_scenario(scenario)
    upper = next(frame.name for frame in house.frames.values() if frame.level == 2)
    lower = next(pack.name for pack in house.packs.values() if pack.level == 1)
    answer = run(capsys, "record", scenario, "aside", upper, "--pack", lower, "--journal", journal)
    assert answer.exit_code == 1
    assert f"pack {lower} is on level 1, {upper} is of level 2" in answer.err
    assert not journal.exists()


def test_a_day_that_is_stuck_tells_where_and_by_which_rule(
    capsys: Capture, journal: Path, tmp_path: Path
) -> None:
    # Pack A lies across E1 and E2, which are first: all else must wait, in the wrong order on pile S1.
    record(capsys, journal, "landed", "A", "--at", "1500", "0")
    words = ("replan", GARDEN, "--journal", journal, "--limit", "2", "--out", tmp_path / "new.json")
    answer = run(capsys, *words)
    assert answer.exit_code == 4
    assert "no plan was found from here" in answer.err
    assert "ground-clear" in answer.err
    assert not (tmp_path / "new.json").exists()


def test_replan_without_an_old_plan_and_then_nothing_is_left(
    capsys: Capture, tmp_path: Path, journal: Path
) -> None:
    record(capsys, journal, "stood", "E2")
    out = tmp_path / "new.json"
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", out, "--json")
    assert answer.exit_code == 0, answer.err
    document = json.loads(answer.out)
    assert document["against_old_plan"] is None
    assert document["journal_remarks"] == ["Row 2: E2 was stood from under N2, E5, E4 in pack A."]
    assert run(capsys, "verify", GARDEN, out).exit_code == 0
    for move in document["plan"]["moves"]:
        if move["do"] == "stand":
            record(capsys, journal, "stood", move["frame"])
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", tmp_path / "none.json")
    assert (answer.exit_code, answer.out) == (0, "Every frame stands: there is nothing left to plan.\n")
    assert not (tmp_path / "none.json").exists()


def test_where_nothing_can_be_stood_the_frame_and_the_rule_are_named(
    capsys: Capture, journal: Path, tmp_path: Path
) -> None:
    record(capsys, journal, "missing", "E1")
    record(capsys, journal, "missing", "E2")
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", tmp_path / "new.json")
    assert answer.exit_code == 3
    assert "E1: missing" in answer.err
    assert "reference-first" in answer.err
    assert not (tmp_path / "new.json").exists()


def test_the_journal_is_never_replaced_by_a_plan(capsys: Capture, journal: Path) -> None:
    record(capsys, journal, "stood", "E2")
    before = journal.read_bytes()
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", journal, "--force")
    assert answer.exit_code == 1
    assert journal.read_bytes() == before


def test_what_the_old_plan_was_made_with_holds_for_the_new_one(
    capsys: Capture, journal: Path, tmp_path: Path
) -> None:
    # E4 is missing: one-way clockwise from E2, E1, E6, E5 nothing can follow; both ways E3 can.
    for words in ("stood E2", "stood E1", "missing E4"):
        record(capsys, journal, *words.split())
    out = tmp_path / "new.json"
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", out, "--json")
    left = json.loads(answer.out)["left_out"]
    assert [absent["frame"] for absent in left["absent"]] == ["E4"]
    assert left["more_with_lap"]["both-ways"] >= 1
    other = tmp_path / "other.json"
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--out", other, "--lap", "both-ways")
    assert answer.exit_code == 0, answer.err
    again = tmp_path / "again.json"
    answer = run(capsys, "replan", GARDEN, "--journal", journal, "--plan", other, "--out", again, "--json")
    assert answer.exit_code == 0, answer.err
    document = json.loads(answer.out)
    assert "The old plan could go on" in " ".join(document["against_old_plan"])
    assert {move["frame"] for move in document["plan"]["moves"] if move["do"] == "stand"} >= {"E3"}


def test_every_sheet_takes_a_plan_made_in_the_middle(
    capsys: Capture, journal: Path, plan_file: Path, tmp_path: Path
) -> None:
    for words in ("aside N2 --spot S2", "aside E5 --spot S2", "aside E4 --spot S2", "stood E2", "damaged N1"):
        record(capsys, journal, *words.split())
    out = tmp_path / "new.json"
    run(capsys, "replan", GARDEN, "--journal", journal, "--plan", plan_file, "--out", out)
    for command in (
        ("page", GARDEN, out, "--json"),
        ("page", GARDEN, out, "--svg", tmp_path / "plan.svg"),
        ("lifts", GARDEN, "--plan", out),
        ("braces", GARDEN, out),
        ("laps", GARDEN, out),
        ("job", GARDEN, out),
    ):
        answer = run(capsys, *command)
        assert answer.exit_code == 0, (command, answer.err)
    page = json.loads(run(capsys, "page", GARDEN, out, "--json").out)
    assert page["states"][0]["stood"] == 1
    assert page["known"]["lines"] == 6
