"""A real browser for the tests of pages; they are skipped only where there is none."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome")
EXECUTABLE = next((path for path in map(shutil.which, NAMES) if path), None)
needs_browser = pytest.mark.skipif(EXECUTABLE is None, reason="no Chromium on this machine")

AXE = os.environ.get("PACKSEQ_AXE", "")
"""Path of axe.min.js, where `.ci/run` has fetched it."""

PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 800}


@contextmanager
def a_browser() -> Iterator[Browser]:
    """Yield a headless browser; without its sandbox, which a container's root may not have."""
    with sync_playwright() as tools:
        browser = tools.chromium.launch(executable_path=EXECUTABLE, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


@dataclass
class Opened:
    """An open page, what it said on the console, and everything that it asked for."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def assert_quiet(self, file: Path) -> None:
        """Hold that nothing was said, and nothing asked for but the file itself."""
        assert not self.said
        assert set(self.asked) == {file.as_uri()}


def opened(page: Page, file: Path) -> Opened:
    """Open a file in a page and watch it from the start."""
    seen = Opened(page)
    page.on("console", lambda message: seen.said.append(message.text))
    page.on("pageerror", lambda error: seen.said.append(str(error)))
    page.on("request", lambda request: seen.asked.append(request.url))
    page.goto(file.as_uri())
    return seen


def sideways_px(page: Page) -> float:
    """Return by how many pixels the page is wider than its window."""
    width: float = page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )
    return width


SERIOUS = """async () => {
  const found = await axe.run({ resultTypes: ["violations"] });
  return found.violations
    .filter((each) => ["serious", "critical"].includes(each.impact))
    .map((each) => each.id + ": " + each.nodes.map((node) => node.html.slice(0, 120)).join(" | "));
}"""


def serious_faults(page: Page) -> list[str]:
    """Return the serious accessibility faults that axe-core finds in what the page shows now."""
    if not page.evaluate("Boolean(window.axe)"):
        page.evaluate(Path(AXE).read_text(encoding="utf-8"))
    faults: list[str] = page.evaluate(SERIOUS)
    return faults


needs_axe = pytest.mark.skipif(not AXE, reason="PACKSEQ_AXE does not name axe.min.js")
