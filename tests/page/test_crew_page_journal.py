"""What the crew's page keeps, saves and loads, in a real browser."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsers import a_browser, needs_browser
from crew_browsing import job, lines_of, load, on_steps, press, saved, shown, view
from playwright.sync_api import Browser

pytestmark = needs_browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


def test_ticks_survive_a_reload_and_can_be_taken_away(browser: Browser, folder: Path) -> None:
    page = on_steps(browser, job("garden-room", folder)).page
    for _ in range(3):
        press(page, "Done")
    assert shown(page)["step"] == "step-4"
    page.reload()
    assert page.inner_text("#progress").startswith("3 of ")
    assert shown(page)["step"] == "step-4"
    press(page, "Back")
    press(page, "Untick")
    assert page.inner_text("#progress").startswith("2 of ")
    page.reload()
    assert page.inner_text("#progress").startswith("2 of ")
    assert shown(page)["step"] == "step-3"
    page.context.close()


def test_the_whole_day_is_ticked_and_saved_and_loaded_elsewhere(
    browser: Browser, folder: Path, tmp_path: Path
) -> None:
    this = job("garden-room", folder)
    page = on_steps(browser, this).page
    moves = this.done.plan.moves
    for _ in moves:
        press(page, "Done")
    assert shown(page)["step"] == "finished"
    file = saved(page, tmp_path)
    assert file.name == "journal-garden-room.jsonl"
    begun, *lines = lines_of(file)
    assert begun["event"] == "begun"
    assert (begun["scenario"], begun["scenario_sha256"]) == ("garden-room", this.done.plan.scenario_sha256)
    expected = [
        {"event": "stood", "frame": move.frame}
        if move.to is None
        else {"event": "set aside", "frame": move.frame, "to": {"spot": move.to.spot}}
        for move in moves
    ]
    assert [{key: line[key] for key in line if key not in {"format", "at"}} for line in lines] == expected
    assert all(line["format"] == 1 for line in (begun, *lines))
    assert all(re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d", line["at"]) for line in lines)
    page.context.close()

    other = on_steps(browser, this).page
    assert load(other, file).startswith(f"{len(moves) + 1} lines added")
    assert other.inner_text("#progress").startswith(f"{len(moves)} of {len(moves)}")
    assert load(other, file).startswith("0 lines added")
    other.context.close()


def test_a_torn_or_foreign_journal_is_told_and_loses_nothing_else(
    browser: Browser, folder: Path, tmp_path: Path
) -> None:
    this = job("garden-room", folder)
    first = this.done.plan.moves[0]
    assert first.to is not None
    whole = {"format": 1, "at": "2026-03-02T07:02:11+01:00", "event": "set aside", "frame": first.frame}
    good = json.dumps(whole | {"to": {"spot": first.to.spot}})
    unknown = json.dumps({"format": 1, "at": "2026-03-02T07:03:11+01:00", "event": "stood", "frame": "E99"})
    torn = tmp_path / "torn.jsonl"
    torn.write_text(f"{good}\n{unknown}\nnot json\n{good[:40]}", encoding="utf-8")
    page = on_steps(browser, this).page
    told = load(page, torn)
    assert "1 line added" in told
    assert "Line 2: no frame is called so" in told
    assert "Line 3 is not sound JSON" in told
    assert "last line is torn" in told
    assert page.inner_text("#progress").startswith("1 of ")
    other = tmp_path / "other.jsonl"
    begun = {
        "format": 1,
        "at": "2026-03-02T07:00:00Z",
        "event": "begun",
        "scenario": "x",
        "scenario_sha256": "y",
    }
    other.write_text(f"{json.dumps(begun)}\n{good}\n", encoding="utf-8")
    assert "another house" in load(page, other)
    page.context.close()


EVENTS: tuple[tuple[str, dict[str, str], dict[str, Any]], ...] = (
    ("missing", {"frame": "N2"}, {"frame": "N2"}),
    ("damaged", {"frame": "N2", "note": "split"}, {"frame": "N2", "note": "split"}),
    (
        "found",
        {"frame": "N2", "in": "pack A", "layer": "5"},
        {"frame": "N2", "in": {"pack": "A", "layer": 5}},
    ),
    ("found", {"frame": "N2", "in": "spot S1"}, {"frame": "N2", "in": {"spot": "S1"}}),
    ("set aside", {"frame": "E3", "to": "spot S1"}, {"frame": "E3", "to": {"spot": "S1"}}),
    ("stood", {"frame": "N2"}, {"frame": "N2"}),
    (
        "landed",
        {"pack": "pack A", "x": "100", "y": "-2500", "bearing": "90"},
        {"pack": "A", "at_mm": [100, -2500], "bearing_deg": 90},
    ),
    ("crew", {"people": "3"}, {"people": 3}),
)


def test_whatever_happens_can_be_noted_and_taken_back(browser: Browser, folder: Path, tmp_path: Path) -> None:
    page = on_steps(browser, job("garden-room", folder)).page
    press(page, "Not as planned? Note it")
    for event, filled, _ in EVENTS:
        page.select_option("#f-what", event)
        for name, value in filled.items():
            if name in {"frame", "in", "to", "pack"}:
                page.select_option(f"#f-{name}", value)
            else:
                page.fill(f"#f-{name}", value)
        press(page, "Note it")
    lines = lines_of(saved(page, tmp_path))[1:]
    told = [{key: line[key] for key in line if key not in {"format", "at"}} for line in lines]
    assert told == [{"event": event, **expected} for event, _, expected in EVENTS]
    # The plan does not know of all but the stand of N2, which ticks its step.
    view(page, "steps")
    assert "7 things were noted that this plan does not know of" in page.inner_text("#noted")
    assert page.inner_text("#progress").startswith("1 of ")
    view(page, "journal")
    page.get_by_role("button", name="Take back: N2 stands", exact=True).click()
    assert lines_of(saved(page, tmp_path))[-1]["what"] == "stood"
    assert page.inner_text("#progress").startswith("0 of ")
    page.context.close()


def test_a_frame_of_another_level_is_not_noted_on_a_pack(
    browser: Browser, folder: Path, tmp_path: Path
) -> None:
    this = job("two-level", folder)
    scenario = this.done.job.house.scenario
    upper = next(frame.name for frame in scenario.frames.values() if frame.level == 2)
    lower = next(pack.name for pack in scenario.packs.values() if pack.level == 1)
    page = on_steps(browser, this).page
    view(page, "journal")
    page.select_option("#f-what", "found")
    page.select_option("#f-frame", upper)
    page.select_option("#f-in", f"pack {lower}")
    page.fill("#f-layer", "1")
    press(page, "Note it")
    assert page.inner_text("#told") == "Not noted: it lies on another level."
    assert lines_of(saved(page, tmp_path)) == []
    page.context.close()
