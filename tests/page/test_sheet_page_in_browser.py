from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsers import DESK, PHONE, a_browser, needs_axe, needs_browser, opened, serious_faults, sideways_px
from playwright.sync_api import Browser

from packseq.drawing.stacks import Lying, pack_from_above, pack_from_side
from packseq.page.sheets import booklet_page
from packseq.sheet import Column, Picture, Section, Sheet, Table, Tick, Ticks, Words

pytestmark = needs_browser

LAYERS = ((Lying("A", 0, 3000, 0, 2400, 90),),)
COLUMNS = (Column("a heading"), Column("mm", number=True), Column("measured, in words", to_fill_in=True))
SHEET = Sheet(
    "A sheet",
    "a house",
    ("Mind the edge.",),
    (
        Section("Words", (Words(("A paragraph. " * 20,)), Ticks((Tick("Measure it", ("mm", "mm", "kg")),)))),
        Section("Figures", (Table(COLUMNS, (("x" * 40, "12 000", ""),), "A table"),)),
        Section("Pictures", (Picture(pack_from_side("a pack", LAYERS).svg(), "from the side"),)),
        Section("More", (Picture(pack_from_above("its top", LAYERS).svg(), "from above"),)),
    ),
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("sheets") / "booklet.html"
    made.write_text(booklet_page("The job", "a house", [SHEET, SHEET]), encoding="utf-8")
    return made


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_booklet_fits_its_window_and_asks_for_nothing(
    browser: Browser, file: Path, size: dict[str, int]
) -> None:
    page = browser.new_page(viewport={"width": size["width"], "height": size["height"]})
    seen = opened(page, file)
    assert sideways_px(page) <= 0
    seen.assert_quiet(file)
    page.close()


def test_what_is_ticked_and_filled_in_survives_a_reload(browser: Browser, file: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(file.as_uri())
    page.locator("#sheet-2 input[type=checkbox]").first.check()
    page.locator("#sheet-2 .measured input").first.fill("12")
    page.locator("#sheet-2 td input").first.fill("11 998")
    page.locator("#sheet-2 td input").first.blur()
    page.reload()
    assert page.locator("#sheet-2 input[type=checkbox]").first.is_checked()
    assert page.locator("#sheet-2 .measured input").first.input_value() == "12"
    assert page.locator("#sheet-2 td input").first.input_value() == "11 998"
    assert not page.locator("#sheet-1 input[type=checkbox]").first.is_checked()
    context.close()


@needs_axe
def test_no_serious_accessibility_fault(browser: Browser, file: Path) -> None:
    page = browser.new_page()
    page.goto(file.as_uri())
    assert serious_faults(page) == []
    page.close()
