"""The page's journal and packseq's are one: noted on the phone, read by packseq, planned on, ticked on."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsers import a_browser, needs_browser, opened
from crew_pages import demo
from playwright.sync_api import Browser, Page

from packseq.check import Replay
from packseq.day.events import SetAside, Stood
from packseq.day.follow import follow
from packseq.day.goingon import go_on
from packseq.day.journal import Journal, append, read_journal
from packseq.day.names import names_of
from packseq.day.present import present_state
from packseq.day.site import site_of
from packseq.page.crew import crew_page

pytestmark = needs_browser
AT = "2026-03-02T07:21:05+01:00"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


def shown(browser: Browser, done: Replay, file: Path) -> Page:
    file.write_text(crew_page(done), encoding="utf-8")
    seen = opened(browser.new_context().new_page(), file)
    view(seen.page, "steps")
    return seen.page


def view(page: Page, name: str) -> None:
    page.evaluate("name => document.querySelector(`[data-view=${name}]`).click()", name)


def press(page: Page, button: str) -> None:
    page.get_by_role("button", name=button, exact=True).click()


def saved(page: Page, file: Path) -> Path:
    view(page, "journal")
    with page.expect_download() as waiting:
        press(page, "Save journal")
    waiting.value.save_as(file)
    return file


def load(page: Page, file: Path) -> None:
    view(page, "journal")
    # Else the words of an earlier load are taken for those of this one.
    page.evaluate("document.getElementById('told').textContent = ''")
    page.set_input_files("#load", file)
    # Not by a script that waits: while it waits, the page's own policy forbids it.
    page.locator("#told", has_text="added").wait_for()
    view(page, "steps")


def read(done: Replay, file: Path) -> Journal:
    journal = read_journal(file, names_of(done.job.house, done.plan))
    assert (journal.faults, journal.torn, journal.remarks) == ((), False, ())
    return journal


def test_a_day_on_the_phone_is_planned_on_from_and_ticked_on(browser: Browser, tmp_path: Path) -> None:
    done = demo("garden-room")
    house, plan = done.job.house, done.plan
    page = shown(browser, done, tmp_path / "crew.html")
    for _ in range(5):
        press(page, "Done")
    file = saved(page, tmp_path / "day.jsonl")
    journal = read(done, file)
    # The page's ticks are what packseq takes for done.
    assert follow(plan, journal.lines).done == plan.moves[:5]
    site = site_of(present_state(house, names_of(house, plan), plan, journal.lines), plan, journal.lines)
    assert site.now.state == done.state_after(5)

    new = go_on(site, limit_s=5).done
    again = shown(browser, new, tmp_path / "crew-2.html")
    first = new.plan.moves[0]
    # A phone that has none of the earlier lines ticks the new plan all the same.
    press(again, "Done")
    assert again.inner_text("#progress") == f"1 of {len(new.plan.moves)} done"

    # On one that has them they are known: nothing is ticked, nothing is news.
    third = shown(browser, new, tmp_path / "crew-3.html")
    load(third, file)
    assert third.inner_text("#progress") == f"0 of {len(new.plan.moves)} done"
    assert third.inner_text("#noted") == ""
    press(third, "Done")
    assert third.inner_text("#progress") == f"1 of {len(new.plan.moves)} done"
    journal = read(new, saved(third, tmp_path / "day-2.jsonl"))
    assert follow(new.plan, journal.lines).done == (first,)


def test_what_packseq_notes_the_page_ticks(browser: Browser, tmp_path: Path) -> None:
    done = demo("garden-room")
    file = tmp_path / "day.jsonl"
    for move in done.plan.moves[:4]:
        if move.to is None:
            append(file, Stood(at=AT, frame=move.frame))
        else:
            append(
                file,
                SetAside.model_validate(
                    {"at": AT, "frame": move.frame, "to": move.to.model_dump(include={"spot", "pack"})}
                ),
            )
    page = shown(browser, done, tmp_path / "crew.html")
    load(page, file)
    assert page.inner_text("#progress") == f"4 of {len(done.plan.moves)} done"
