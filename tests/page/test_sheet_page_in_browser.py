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


WORDS = "over the line of N18 and N19: another is fixed, then this shifted"
WIDE = Table(
    (
        *(Column(heading) for heading in ("brace", "frame", "for", "from its")),
        *(Column(heading, number=True) for heading in ("at mm", "cut mm", "out mm")),
        Column("foot"),
        Column("note"),
        Column("done", to_fill_in=True),
    ),
    (("B8", "E9", "first corner", "north end", "3660", "3394", "2400", "west, slab", WORDS, ""),),
)
LINES = """(name) => [...document.querySelectorAll(name)].map((cell) => {
  const style = getComputedStyle(cell);
  const inner = cell.clientHeight - parseFloat(style.paddingTop) - parseFloat(style.paddingBottom);
  return inner / parseFloat(style.lineHeight);
})"""
A4_PX = round((210 - 24) / 25.4 * 96)


@pytest.mark.parametrize("width", [PHONE["width"], A4_PX], ids=["phone", "A4"])
def test_short_phrases_stay_whole_and_long_ones_are_not_squeezed(
    browser: Browser, tmp_path: Path, width: int
) -> None:
    file = tmp_path / "wide.html"
    sheet = Sheet("Braces", "a house", ("Mind.",), (Section("Every brace", (WIDE,)),))
    file.write_text(booklet_page("The job", "a house", [sheet]), encoding="utf-8")
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.goto(file.as_uri())
    if width == A4_PX:
        page.emulate_media(media="print")
    # The row is as high as its highest cell, the note: 10 rem hold its 66 letters in four lines or five.
    (lines,) = page.evaluate(LINES, "td.long")
    assert lines < 5.5
    wraps = page.evaluate(
        "[...document.querySelectorAll('td.short')].map((c) => getComputedStyle(c).whiteSpace)"
    )
    assert set(wraps) == {"nowrap"}
    assert len(wraps) == 8
    assert sideways_px(page) <= 0
    if width == A4_PX:
        box = "document.querySelector('.table')"
        assert page.evaluate(f"{box}.querySelector('table').offsetWidth <= {box}.clientWidth + 1")
    page.close()


def test_what_is_ticked_and_filled_in_survives_a_reload(browser: Browser, file: Path) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(file.as_uri())
    page.locator("#sheet-2 input[type=checkbox]").first.check()
    page.locator("#sheet-2 .measured input").first.fill("12")
    page.locator("#sheet-2 td input").first.fill("11 998")
    page.locator("#sheet-2 td input").first.blur()
    # The browser passes on what is kept in its own time: on a busy machine a reload could come before.
    page.wait_for_timeout(1000)
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
