from __future__ import annotations

import json
from itertools import count
from pathlib import Path
from types import SimpleNamespace

import pytest
from cli_jobs import GARDEN, garden_with, run

from packseq.cli import bestload
from packseq.scenario.read import read_scenario

EASY = (GARDEN / "site.toml").read_bytes() + b"\n[load]\noverhang_mm = 1100\n"
"""With so much overhang the garden room is loaded without an extra lift, and no limit costs any."""


def test_the_garden_room_is_loaded_and_can_be_planned(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    out = tmp_path / "loaded"
    folder = garden_with(tmp_path, {"site.toml": EASY})
    answer = run(capsys, "load", folder, "--out", out, "--limit", "3")
    assert answer.exit_code == 0
    assert answer.out.startswith("Loading sheet: garden-room\n\nCautions\n")
    assert "No frame is lifted twice on site: the packs come off in stand order." in answer.out
    # On a busy machine it may also be told that the time ran out.
    assert f"The scenario with the new packs is in {out}, its sheet in loading-sheet.html\n" in answer.err
    assert sorted(path.name for path in out.iterdir()) == [
        "frames.csv",
        "loading-sheet.html",
        "openings.csv",
        "packs.csv",
        "site.toml",
    ]
    assert (out / "site.toml").read_bytes() == EASY
    assert sorted(read_scenario(out).frames) == sorted(read_scenario(GARDEN).frames)
    assert run(capsys, "check", out).exit_code == 0
    page = (out / "loading-sheet.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 2
    assert "Take care" in page


@pytest.mark.parametrize(("seconds", "told"), [(100.0, True), (0.0, False)])
def test_it_is_told_where_the_clock_ended_the_search(
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    seconds: float,
    told: bool,
) -> None:
    # A clock that goes on so many seconds whenever it is asked.
    ticks = count(step=seconds)
    monkeypatch.setattr(bestload, "time", SimpleNamespace(monotonic=lambda: float(next(ticks))))
    answer = run(capsys, "load", garden_with(tmp_path, {"site.toml": EASY}), "--limit", "20")
    assert answer.exit_code == 0
    late = "The time ran out before the search had done its work: another run may give another load."
    assert (late in answer.err) == told


def test_json_has_the_packs_from_the_bottom(capsys: pytest.CaptureFixture[str]) -> None:
    answer = run(capsys, "load", GARDEN, "--limit", "1.5", "--json")
    said = json.loads(answer.out)
    (one,) = said["packs"]
    assert said["stages"][0] == {"name": "extra lifts", "value": 3, "bound": 3, "status": "optimal"}
    assert sum(len(layer["frames"]) for layer in one["layers_from_the_bottom"]) == 8
    assert {cost["key"] for cost in said["limits"]} == {"overhang_mm", "landing places"}
    assert "delivered" not in said
    assert said["stopped"] is False


def test_packs_need_not_be_there_yet(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    folder = garden_with(tmp_path, {"packs.csv": None, "site.toml": EASY})
    assert run(capsys, "load", folder, "--limit", "3").exit_code == 0
    answer = run(capsys, "load", folder, "--changes", "--limit", "3")
    assert answer.exit_code == 1
    assert answer.err == "packs.csv: no packs as delivered are given, so there is nothing to change\n"


def test_the_folder_is_kept_and_never_the_scenario_itself(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    folder = garden_with(tmp_path, {})
    for out, said in (
        (folder, "is the scenario itself; write the loaded one beside it"),
        (tmp_path / "no" / "such", f"there is no folder {tmp_path / 'no'}"),
        (folder / "site.toml", "is a file, not a folder"),
        (folder / "..", "exists and is kept; say --force to replace its files"),
    ):
        answer = run(capsys, "load", folder, "--out", out)
        assert (answer.exit_code, answer.out) == (1, "")
        assert answer.err == f"{out}: {said}\n"


def test_a_frame_too_long_for_any_pack_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    site = (GARDEN / "site.toml").read_bytes() + b"\n[load]\nlongest_mm = 3500\n"
    answer = run(capsys, "load", garden_with(tmp_path, {"site.toml": site}))
    assert answer.exit_code == 3
    assert answer.err.splitlines() == [
        f"length: {name} is 4000 mm long, a pack at most 3500 (load.longest_mm)"
        for name in ("E3", "E6", "N1")
    ]


def test_a_table_that_contradicts_itself_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    site = (
        GARDEN / "site.toml"
    ).read_bytes() + b'\n[load]\ntogether = [["E1", "E2"]]\napart = [["E2", "E1"]]\n'
    answer = run(capsys, "load", garden_with(tmp_path, {"site.toml": site}))
    assert answer.exit_code == 1
    assert answer.err == "site.toml, load: E2 and E1 must travel together and must not be in one pack\n"
