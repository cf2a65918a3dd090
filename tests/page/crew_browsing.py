"""The crew's pages of the demos opened in a browser: their files, their buttons, and what they show."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from browsers import DESK, Opened, opened
from crew_pages import demo, hostile, page_of
from playwright.sync_api import Browser, Page

from packseq.check import Replay

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


@dataclass(frozen=True)
class Job:
    """A crew page in a file, and the replay that it was made of."""

    file: Path
    done: Replay


@cache
def job(name: str, folder: Path) -> Job:
    """Return the page of a demo, or of the house with hostile names, written once into a folder."""
    done = hostile() if name == "hostile" else demo(name)
    file = folder / f"{name}.html"
    file.write_text(page_of(name), encoding="utf-8")
    return Job(file, done)


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
    # Else the words of an earlier load are taken for those of this one.
    page.evaluate("document.getElementById('told').textContent = ''")
    page.set_input_files("#load", file)
    # Not by a script that waits: while it waits, the page's own policy forbids it.
    page.locator("#told", has_text="added").wait_for()
    return page.inner_text("#told")
