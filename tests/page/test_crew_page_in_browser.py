"""What the crew's page shows, step by step, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsers import DESK, PHONE, a_browser, needs_browser, sideways_px
from crew_browsing import EVERY, VIEWS, job, on_steps, press, shown, view
from crew_pages import DEMOS, HOSTILE
from playwright.sync_api import Browser, Page

from packseq.check import Replay
from packseq.check.state import State

pytestmark = needs_browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("name", [*DEMOS, "hostile"])
def test_every_step_shows_the_checks_state_within_the_window(
    browser: Browser, folder: Path, name: str, size: dict[str, int]
) -> None:
    this = job(name, folder)
    seen = on_steps(browser, this, size)
    moves = this.done.plan.moves
    steps: list[dict[str, Any]] = seen.page.evaluate(EVERY)
    assert len(steps) == len(moves) + 1
    states = (this.done.job.beginning, *this.done.states())
    for number, (step, state) in enumerate(zip(steps, states, strict=True)):
        assert_shows(step, this.done, number, state)
    for part in VIEWS:
        view(seen.page, part)
        assert sideways_px(seen.page) <= 0, part
    seen.assert_quiet(this.file)
    seen.page.context.close()


def assert_shows(step: dict[str, Any], done: Replay, number: int, state: State) -> None:
    """Hold that a step shows the check's state after `number` moves, and the move that comes next."""
    frames = done.job.house.scenario.frames
    moves = done.plan.moves
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


def test_keys_and_swipes_go_through_the_steps(browser: Browser, folder: Path) -> None:
    page = on_steps(browser, job("garden-room", folder), PHONE).page
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


def test_hostile_names_are_shown_as_text(browser: Browser, folder: Path) -> None:
    this = job("hostile", folder)
    seen = on_steps(browser, this)
    for _ in this.done.plan.moves:
        press(seen.page, "Done")
    for part in VIEWS:
        view(seen.page, part)
    assert seen.page.evaluate("document.querySelectorAll('img, i.hole ~ b ~ script').length") == 0
    assert seen.page.inner_text("header h1") == "<svg onload=alert(1)> ${x}"
    view(seen.page, "order")
    table = seen.page.inner_text("#order")
    assert all(name in table for name in HOSTILE.values())
    seen.assert_quiet(this.file)
    seen.page.context.close()


def test_without_scripts_every_step_can_be_read(browser: Browser, folder: Path) -> None:
    this = job("garden-room", folder)
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(this.file.as_uri())
    text = page.inner_text("main")
    assert all(f"Step {move.n} of" in text for move in this.done.plan.moves)
    assert "Save journal" not in text
    context.close()
