"""The crew's page printed, and for those who read it otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsers import DESK, PHONE, a_browser, needs_axe, needs_browser, serious_faults
from crew_browsing import VIEWS, job, on_steps, press, view
from playwright.sync_api import Browser
from pypdf import PdfReader

pytestmark = needs_browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with a_browser() as started:
        yield started


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


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


@pytest.mark.parametrize(("name", "paper"), [("l-shaped", "A4"), ("two-level", "A3"), ("hostile", "A4")])
def test_it_prints_whole(browser: Browser, folder: Path, tmp_path: Path, name: str, paper: str) -> None:
    done = job(name, folder).done
    width_mm, height_mm = PAPERS[paper]
    # The width between the margins of 12 mm, in CSS pixels of 1/96 inch.
    width = int((width_mm - 24) / 25.4 * 96)
    context = browser.new_context(viewport={"width": width, "height": 1000})
    page = context.new_page()
    page.goto(job(name, folder).file.as_uri())
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
@pytest.mark.parametrize(
    ("name", "size", "parts"),
    [("garden-room", PHONE, VIEWS), ("garden-room", DESK, VIEWS), ("two-level", PHONE, ("steps", "plan"))],
    ids=["phone", "desk", "levels"],
)
def test_no_serious_accessibility_fault(
    browser: Browser, folder: Path, name: str, size: dict[str, int], parts: tuple[str, ...]
) -> None:
    page = on_steps(browser, job(name, folder), size).page
    press(page, "Done")
    for part in parts:
        view(page, part)
        assert serious_faults(page) == [], part
    page.context.close()
