"""`packseq compare` from the command line, with a search that stands in and with the real one."""

from __future__ import annotations

import json
import signal
import threading
import time
from pathlib import Path

import pytest
from cli_jobs import GARDEN, garden_with, nearest, run, stand_in

from packseq.baseline import by_nearest
from packseq.cli.against import Against, against_best_load
from packseq.cli.comparing import line_of
from packseq.cli.solving import Watch
from packseq.errors import Conflict, LimitError, NoPlanError
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.sheet import Section, Words
from packseq.standup.progress import Listener, Progress


def lines(out: str) -> list[str]:
    return [" ".join(line.split()) for line in out.splitlines()]


def row(out: str, name: str) -> str:
    (found,) = [line for line in lines(out) if line.startswith(f"{name} ")]
    return found.removeprefix(name).strip()


@pytest.fixture(autouse=True)
def _no_load(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look for no load but where a test says so: it has its own searches."""

    def nothing(*_: object) -> Against:
        return Against(Section("Packs", (Words(("No load was looked for.",)),)), {"none": "not looked for"})

    monkeypatch.setattr("packseq.cli.comparing.against_best_load", nothing)


def taking_the_nearest(house: House, listener: Listener, stop: threading.Event) -> Plan:
    """Solve as the unplanned crew does; where that crew gets stuck, say that there is no plan."""
    if by_nearest(house).plan is None:
        raise NoPlanError([Conflict(("crew-lift",), "the crew gets stuck")])
    return nearest(house, listener, stop)


def test_the_searches_share_the_limit(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = stand_in(monkeypatch, taking_the_nearest)
    answer = run(capsys, "compare", GARDEN, "--limit", "80")
    assert (answer.exit_code, answer.err) == (0, "")
    # The plan of the stand-in goes clockwise, holds E3 open and needs 4 people. So clockwise and a crew of
    # 5 are answered; two laps, anticlockwise, none and two held open and a crew of 3 are searched.
    assert [each.limit_s for each in asked] == [20, *[10] * 6]
    assert [(each.stand.lap, each.stand.direction, each.stand.hold_open) for each in asked] == [
        ("one-way", "auto", 1),
        ("both-ways", "auto", 1),
        ("free", "auto", 1),
        ("one-way", "anticlockwise", 1),
        ("one-way", "auto", 0),
        ("one-way", "auto", 2),
        ("one-way", "auto", 1),
    ]


def test_the_garden_room_side_by_side(capsys: pytest.CaptureFixture[str]) -> None:
    answer = run(capsys, "compare", GARDEN, "--limit", "60")
    assert answer.exit_code == 0
    # Worked out by hand in the garden room's note: 4 clockwise, 6 anticlockwise.
    own = row(answer.out, "As the scenario has it")
    assert own.startswith("4 ")
    assert row(answer.out, "Clockwise") == own
    assert row(answer.out, "Anticlockwise").startswith("6 ")
    # Both-ways E2 and E1 are still first, so three of N2, E5 and E4 above them wait, or four with E2 if
    # E1 is first; and of E3 and E6, both under N1, at most one is held open, so N1 waits. At least 4.
    assert row(answer.out, "Both-ways lap").startswith("4 ")
    # None held open: the same four wait, and N1 and N2 come in by the slider in E1.
    assert row(answer.out, "Hold open no frame").startswith("4 ")
    # E6 weighs 85.6 kg: 4 people at 25 kg. A crew of 5 lifts with the same teams.
    assert row(answer.out, "Crew of 3") == "no plan: crew-lift"
    assert row(answer.out, "Crew of 5") == own
    assert "E6 (85.6 kg) needs 4 people; the crew has 3" in " ".join(answer.out.split())
    assert "- Going anticlockwise costs 2 extra lifts" in answer.out
    assert "A N2 E5, E4, E2, E1, N1, E6 load N2 below E6 1" in lines(answer.out)


def test_json_holds_every_row_and_what_the_lifts_come_from(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    stand_in(monkeypatch, taking_the_nearest)
    said = json.loads(run(capsys, "compare", GARDEN, "--json").out)
    assert [each["change"] for each in said["rows"]] == [
        None,
        {"what": "lap", "value": "both-ways"},
        {"what": "lap", "value": "free"},
        {"what": "direction", "value": "clockwise"},
        {"what": "direction", "value": "anticlockwise"},
        {"what": "hold_open", "value": "0"},
        {"what": "hold_open", "value": "2"},
        {"what": "people", "value": "3"},
        {"what": "people", "value": "5"},
    ]
    own = said["rows"][0]
    assert (own["cost"]["extra_lifts"], own["ending"], own["proven"]) == (4, "plan", False)
    assert [each["ending"] for each in said["unplanned"]] == ["plan", "plan"]
    assert len(said["extra_lifts"]) == 4
    assert {each["pack"] for each in said["extra_lifts"]} == {"A"}
    assert said["rates"]["stand_s"] == 300
    assert said["stopped"] is False


def test_the_delivered_packs_against_the_best_load(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("packseq.cli.comparing.against_best_load", against_best_load)
    stand_in(monkeypatch, taking_the_nearest)
    answer = run(capsys, "compare", GARDEN, "--limit", "60")
    assert answer.exit_code == 0
    assert "Best load: 3 extra lifts (proven)." in answer.out
    # E6, laid otherwise, saves one of four; three is the fewest of any load.
    (moved,) = [line for line in lines(answer.out) if line.startswith("3 1 ")]
    assert moved.split()[-1] in {"E6", "N1"}


def test_limits_that_no_load_keeps_are_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("packseq.cli.comparing.against_best_load", against_best_load)
    stand_in(monkeypatch, taking_the_nearest)
    site = (GARDEN / "site.toml").read_bytes() + b"\n[load]\nlongest_mm = 3900\n"
    answer = run(capsys, "compare", garden_with(tmp_path, {"site.toml": site}), "--limit", "2")
    assert answer.exit_code == 0
    assert "No load to compare with: length: E3 is 4000 mm long" in " ".join(answer.out.split())


def test_ctrl_c_shows_what_there_is(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(house: House, listener: Listener, stop: threading.Event) -> Plan:
        listener(Progress("extra lifts", 5, 3, 0.1))
        signal.raise_signal(signal.SIGINT)
        assert stop.wait(timeout=10)
        return nearest(house, listener, stop)

    asked = stand_in(monkeypatch, interrupted)
    answer = run(capsys, "compare", GARDEN)
    # Two minutes unless told, a quarter of them for the first search.
    assert (answer.exit_code, [each.limit_s for each in asked]) == (0, [30])
    assert "The comparison was stopped" in answer.out
    assert row(answer.out, "As the scenario has it").startswith("4 ")
    assert row(answer.out, "Anticlockwise") == "not searched"
    assert "- Anticlockwise: stopped before its turn." in answer.out


def test_no_plan_at_all_has_its_exit_code(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(_house: House, _listener: Listener, _stop: threading.Event) -> Plan:
        raise NoPlanError(
            [Conflict(("spot-room",), f"{name} has no room") for name in ("A1", "A2", "A3", "A4")]
        )

    stand_in(monkeypatch, none)
    answer = run(capsys, "compare", GARDEN)
    assert answer.exit_code == 3
    assert "- As it is no plan keeps the rules, and none of the changes has a plan either." in answer.out
    assert "- Free lap: spot-room: A1 has no room; A2 has no room; A3 has no room; and 1 more." in answer.out
    assert json.loads(run(capsys, "compare", GARDEN, "--json").out)["extra_lifts"] is None


def test_a_limit_without_any_plan_has_its_own(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def late(_house: House, _listener: Listener, _stop: threading.Event) -> Plan:
        raise LimitError("the limit was reached before any plan was found")

    stand_in(monkeypatch, late)
    answer = run(capsys, "compare", GARDEN, "--limit", "1")
    assert answer.exit_code == 4
    assert row(answer.out, "Free lap") == "no plan found"


def test_landing_places_are_rows(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    stand_in(monkeypatch, taking_the_nearest)
    site = (GARDEN / "site.toml").read_text(encoding="utf-8")
    two = site.replace("at_mm = [3000, -2000]", "places_mm = [[3000, -2000, 0], [3000, -9000, 0]]", 1)
    assert two != site
    answer = run(capsys, "compare", garden_with(tmp_path, {"site.toml": two.encode()}))
    assert answer.exit_code == 0
    near = row(answer.out, "Pack A at place 1 (x 3000, y -2000)").split()
    far = row(answer.out, "Pack A at place 2 (x 3000, y -9000)").split()
    # Each of the 8 frames comes 7 m further, and all but the first are walked back for as well.
    assert near[0] == far[0] == "4"
    assert int(far[1]) > int(near[1]) + 8 * 7


def test_a_broken_scenario_is_told(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    answer = run(capsys, "compare", garden_with(tmp_path, {"packs.csv": None}))
    assert (answer.exit_code, answer.out) == (1, "")
    assert "packs.csv: is not in the folder" in answer.err


def test_the_line_tells_row_and_stage() -> None:
    watch = Watch(time.monotonic() - 12.2, Progress("extra lifts", 15, 12, 12.0))
    assert line_of(watch, 120.0, "Free lap (3 of 8)") == (
        "12 s of 120: Free lap (3 of 8): extra lifts: best so far 15, at least 12, gap 20.0%. "
        "Ctrl-C stops here and shows what there is."
    )
    watch.stop.set()
    assert line_of(watch, 120.0, "Free lap (3 of 8)") == "Stopping. Free lap (3 of 8)"
