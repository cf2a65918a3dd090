"""The crew's page in a real browser: what it shows, keeps, saves and prints."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from browsers import (
    DESK,
    PHONE,
    Opened,
    a_browser,
    needs_axe,
    needs_browser,
    opened,
    serious_faults,
    sideways_px,
)
from crew_pages import DEMOS, HOSTILE, demo, hostile
from playwright.sync_api import Browser, Page
from pypdf import PdfReader

from packseq.check import Replay
from packseq.page.crew import crew_page

pytestmark = needs_browser

VIEWS = ("day", "steps", "plan", "order", "packs", "tags", "journal")

SHOWN = """() => {
  const open = [...document.querySelectorAll("#live .level")].find((each) => !each.hidden);
  const named = (state) =>
    [...open.querySelectorAll(`.frame[data-state=${state}]`)].map((each) => each.dataset.frame);
  const card = [...document.querySelectorAll(".step")].find((each) => !each.hidden);
  return {
    step: card ? card.id : document.getElementById("finished").hidden ? null : "finished",
    level: Number(open.dataset.level),
    stands: named("stands"),
    now: named("now"),
    lies: Object.fromEntries([...document.querySelectorAll("#lies [data-lies]")].map((heap) =>
      [heap.dataset.lies, [...heap.querySelectorAll("li")].map((layer) => layer.textContent)])),
    told: Object.fromEntries([...open.querySelectorAll(".label[data-heap] .count")].map((count) =>
      [count.parentElement.dataset.heap, count.textContent])),
    route: open.querySelector(".way .route")?.points.length ?? 0,
    sideways: document.documentElement.scrollWidth - document.documentElement.clientWidth,
  };
}"""
"""What the page shows of a step, read from what is drawn and listed."""

EVERY = f"""() => {{
  const shown = {SHOWN};
  const steps = [shown()];
  for (const next = document.getElementById("next"); !next.disabled; steps.push(shown())) next.click();
  return steps;
}}"""
"""The same for every step, going on with the page's own button."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


@dataclass(frozen=True)
class Job:
    """A crew page in a file, and the replay that it was made of."""

    file: Path
    done: Replay


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Job]:
    folder = tmp_path_factory.mktemp("pages")
    made = {}
    for name in (*DEMOS, "hostile"):
        done = hostile() if name == "hostile" else demo(name)
        file = folder / f"{name}.html"
        file.write_text(crew_page(done), encoding="utf-8")
        made[name] = Job(file, done)
    return made


def press(page: Page, button: str) -> None:
    page.get_by_role("button", name=button, exact=True).click()


def view(page: Page, name: str) -> None:
    """Open a part of the page; on a phone its button may be behind the menu."""
    page.evaluate("name => document.querySelector(`[data-view=${name}]`).click()", name)


def on_steps(browser: Browser, job: Job, size: dict[str, int] = DESK) -> Opened:
    context = browser.new_context(viewport={"width": size["width"], "height": size["height"]})
    seen = opened(context.new_page(), job.file)
    view(seen.page, "steps")
    return seen


def shown(page: Page) -> dict[str, Any]:
    what: dict[str, Any] = page.evaluate(SHOWN)
    return what


def lines_of(file: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]


def saved(page: Page, folder: Path) -> Path:
    view(page, "journal")
    with page.expect_download() as waiting:
        press(page, "Save journal")
    file = folder / waiting.value.suggested_filename
    waiting.value.save_as(file)
    return file


def load(page: Page, file: Path) -> str:
    view(page, "journal")
    page.set_input_files("#load", file)
    page.wait_for_function("document.getElementById('told').textContent.includes('added')")
    return page.inner_text("#told")


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("name", [*DEMOS, "hostile"])
def test_every_step_shows_the_checks_state_within_the_window(
    browser: Browser, jobs: dict[str, Job], name: str, size: dict[str, int]
) -> None:
    job = jobs[name]
    seen = on_steps(browser, job, size)
    moves = job.done.plan.moves
    steps: list[dict[str, Any]] = seen.page.evaluate(EVERY)
    assert len(steps) == len(moves) + 1
    for number, step in enumerate(steps):
        assert_shows(step, job.done, number)
    for part in VIEWS:
        view(seen.page, part)
        assert sideways_px(seen.page) <= 0, part
    seen.assert_quiet(job.file)
    seen.page.context.close()


def assert_shows(step: dict[str, Any], done: Replay, number: int) -> None:
    """Hold that a step shows the check's state after `number` moves, and the move that comes next."""
    frames = done.job.house.scenario.frames
    moves = done.plan.moves
    state = done.state_after(number)
    finished = number == len(moves)
    level = done.job.house.levels[-1].level if finished else frames[moves[number].frame].level
    assert step["step"] == ("finished" if finished else f"step-{number + 1}")
    assert step["level"] == level
    assert sorted(step["stands"]) == sorted(name for name in state.stood if frames[name].level == level)
    assert step["lies"] == {
        str(heap): [", ".join(layer.frames) for layer in layers] for heap, layers in state.heaps.items()
    }
    counts = {str(heap): len(state.lying(heap)) for heap in state.heaps}
    assert step["told"]
    for heap, told in step["told"].items():
        assert told.split()[0] == (str(counts[heap]) if counts[heap] else "empty")
    assert step["sideways"] <= 0
    if not finished:
        move = moves[number]
        assert step["now"] == ([move.frame] if move.do == "stand" else [])
        assert step["route"] == (len(move.route_mm) or 2)


def test_ticks_survive_a_reload_and_can_be_taken_away(browser: Browser, jobs: dict[str, Job]) -> None:
    page = on_steps(browser, jobs["garden-room"]).page
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
    browser: Browser, jobs: dict[str, Job], tmp_path: Path
) -> None:
    job = jobs["garden-room"]
    page = on_steps(browser, job).page
    moves = job.done.plan.moves
    for _ in moves:
        press(page, "Done")
    assert shown(page)["step"] == "finished"
    file = saved(page, tmp_path)
    assert file.name == "journal-garden-room.jsonl"
    begun, *lines = lines_of(file)
    assert begun["event"] == "begun"
    assert (begun["scenario"], begun["scenario_sha256"]) == ("garden-room", job.done.plan.scenario_sha256)
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

    other = on_steps(browser, job).page
    assert load(other, file).startswith(f"{len(moves) + 1} lines added")
    assert other.inner_text("#progress").startswith(f"{len(moves)} of {len(moves)}")
    assert load(other, file).startswith("0 lines added")
    other.context.close()


def test_a_torn_or_foreign_journal_is_told_and_loses_nothing_else(
    browser: Browser, jobs: dict[str, Job], tmp_path: Path
) -> None:
    job = jobs["garden-room"]
    first = job.done.plan.moves[0]
    assert first.to is not None
    whole = {"format": 1, "at": "2026-03-02T07:02:11+01:00", "event": "set aside", "frame": first.frame}
    good = json.dumps(whole | {"to": {"spot": first.to.spot}})
    unknown = json.dumps({"format": 1, "at": "2026-03-02T07:03:11+01:00", "event": "stood", "frame": "E99"})
    torn = tmp_path / "torn.jsonl"
    torn.write_text(f"{good}\n{unknown}\nnot json\n{good[:40]}", encoding="utf-8")
    page = on_steps(browser, job).page
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


def test_whatever_happens_can_be_noted_and_taken_back(
    browser: Browser, jobs: dict[str, Job], tmp_path: Path
) -> None:
    page = on_steps(browser, jobs["garden-room"]).page
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


def test_keys_and_swipes_go_through_the_steps(browser: Browser, jobs: dict[str, Job]) -> None:
    page = on_steps(browser, jobs["garden-room"], PHONE).page
    page.keyboard.press("ArrowRight")
    assert shown(page)["step"] == "step-2"
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert shown(page)["step"] == "step-1"
    page.keyboard.press("d")
    assert page.inner_text("#progress").startswith("1 of ")
    assert shown(page)["step"] == "step-2"
    swipe(page, 300, 60)
    assert shown(page)["step"] == "step-3"
    swipe(page, 60, 300)
    assert shown(page)["step"] == "step-2"
    # Mostly down is scrolling, not a swipe.
    swipe(page, 300, 200, down=300)
    assert shown(page)["step"] == "step-2"
    page.context.close()


def swipe(page: Page, start: int, end: int, down: int = 0) -> None:
    page.evaluate(
        """([start, end, down]) => {
          const card = document.getElementById("steps");
          const touch = (x, y) => new Touch({ identifier: 1, target: card, clientX: x, clientY: y });
          const options = { bubbles: true, cancelable: true };
          const [from, to] = [touch(start, 300), touch(end, 300 + down)];
          card.dispatchEvent(new TouchEvent("touchstart", { ...options, touches: [from] }));
          card.dispatchEvent(new TouchEvent("touchend", { ...options, touches: [], changedTouches: [to] }));
        }""",
        [start, end, down],
    )


def test_hostile_names_are_shown_as_text(browser: Browser, jobs: dict[str, Job]) -> None:
    job = jobs["hostile"]
    seen = on_steps(browser, job)
    for _ in job.done.plan.moves:
        press(seen.page, "Done")
    for part in VIEWS:
        view(seen.page, part)
    assert seen.page.evaluate("document.querySelectorAll('img, i.hole ~ b ~ script').length") == 0
    assert seen.page.inner_text("header h1") == "<svg onload=alert(1)> ${x}"
    view(seen.page, "order")
    table = seen.page.inner_text("#order")
    assert all(name in table for name in HOSTILE.values())
    seen.assert_quiet(job.file)
    seen.page.context.close()


def test_without_scripts_every_step_can_be_read(browser: Browser, jobs: dict[str, Job]) -> None:
    job = jobs["garden-room"]
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(job.file.as_uri())
    text = page.inner_text("main")
    assert all(f"Step {move.n} of" in text for move in job.done.plan.moves)
    assert "Save journal" not in text
    context.close()


MM_PER_POINT = 25.4 / 72
PAPERS = {"A4": (210, 297), "A3": (297, 420)}
CLIPPED = """() => {
  const edge = document.documentElement.clientWidth + 1;
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.textContent.trim() || node.parentElement.closest("script, style")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width && (box.left < -1 || box.right > edge)) found.push(node.textContent);
    }
  }
  return found;
}"""


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["l-shaped", "two-level", "hostile"])
def test_it_prints_whole(
    browser: Browser, jobs: dict[str, Job], tmp_path: Path, name: str, paper: str
) -> None:
    done = jobs[name].done
    width_mm, height_mm = PAPERS[paper]
    # The width between the margins of 12 mm, in CSS pixels of 1/96 inch.
    width = int((width_mm - 24) / 25.4 * 96)
    context = browser.new_context(viewport={"width": width, "height": 1000})
    page = context.new_page()
    page.goto(jobs[name].file.as_uri())
    page.emulate_media(media="print")
    assert page.evaluate(CLIPPED) == []
    file = tmp_path / "page.pdf"
    page.pdf(
        path=file, format=paper, margin={"top": "12mm", "bottom": "12mm", "left": "12mm", "right": "12mm"}
    )
    context.close()
    sheets = PdfReader(file).pages
    for sheet in sheets:
        assert float(sheet.mediabox.width) * MM_PER_POINT == pytest.approx(width_mm, abs=1)
        assert float(sheet.mediabox.height) * MM_PER_POINT == pytest.approx(height_mm, abs=1)
    text = "".join("".join(sheet.extract_text() for sheet in sheets).split())
    for move in done.plan.moves:
        # Fonts made up for a script that the machine has none for cannot be read back.
        if move.frame.isascii():
            assert "".join(move.frame.split()) in text
    assert "Takecare" in text


@needs_axe
@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_no_serious_accessibility_fault(browser: Browser, jobs: dict[str, Job], size: dict[str, int]) -> None:
    page = on_steps(browser, jobs["two-level"], size).page
    press(page, "Done")
    for part in VIEWS:
        view(page, part)
        assert serious_faults(page) == [], part
    page.context.close()
