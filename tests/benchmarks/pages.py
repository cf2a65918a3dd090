"""How large the crew's page is, how soon it is painted and how long a step takes, in headless Chromium.

The demos, and an invented house of 60 frames; the order is that of a crew without a plan, which needs
no search. A step is a press of Next, or of Done: processor time of the page's thread until it is laid out.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path

from rich.console import Console

sys.path.insert(0, str(Path(__file__).parents[1] / "page"))

from browsers import DESK, EXECUTABLE, PHONE, a_browser
from crew_pages import DEMOS, demo, unplanned
from generated import generated_scenario
from playwright.sync_api import Browser, Page
from showing import empty_table

from packseq.house.derive import derive_house
from packseq.page.crew import crew_page

FIRST_PAINT = """() => new Promise((told) => {
  const first = (list) => list.getEntries().find((each) => each.name === "first-contentful-paint").startTime;
  new PerformanceObserver((list) => told(first(list))).observe({ type: "paint", buffered: true });
})"""

WORK = ("ScriptDuration", "LayoutDuration", "RecalcStyleDuration")
"""What a step costs: working it out, laying it out, and finding how everything looks."""

PRESS = """(pressed) => {
  document.getElementById(pressed).click();
  document.body.getBoundingClientRect();
}"""


def opened(browser: Browser, file: Path, size: dict[str, int]) -> Page:
    page = browser.new_page(viewport={"width": size["width"], "height": size["height"]})
    page.goto(file.as_uri())
    return page


def steps_ms(page: Page, pressed: str) -> list[float]:
    """Return what each press costs the page's thread; other work on the machine does not count."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def work_s() -> float:
        told: dict[str, float] = {
            each["name"]: each["value"] for each in session.send("Performance.getMetrics")["metrics"]
        }
        return sum(told[name] for name in WORK)

    page.click("[data-view=steps]")
    took = []
    while page.locator(f"#{pressed}").is_enabled():
        before_s = work_s()
        page.evaluate(PRESS, pressed)
        took.append((work_s() - before_s) * 1000)
    return took


def measured(browser: Browser, file: Path, size: dict[str, int]) -> tuple[float, list[list[float]]]:
    """Return when the page is first painted, and what each press of Next, then of Done, costs, all in ms."""
    page = opened(browser, file, size)
    paint: float = page.evaluate(FIRST_PAINT)
    page.close()
    steps = []
    for pressed in ("next", "done"):
        page = opened(browser, file, size)
        steps.append(steps_ms(page, pressed))
        page.close()
    return paint, steps


def main() -> None:
    if EXECUTABLE is None:
        sys.exit("no Chromium on this machine")
    house = derive_house(generated_scenario(60, packs=4, seed=1))
    jobs = {name: demo(name) for name in DEMOS} | {"60 frames": unplanned(house)}
    table = empty_table(
        "The crew's page",
        "house",
        "frames",
        "kB",
        "window",
        "first paint ms",
        "Next ms: median / worst",
        "Done ms: median / worst",
    )
    with a_browser() as browser, tempfile.TemporaryDirectory() as folder:
        for name, done in jobs.items():
            file = Path(folder) / f"{name.replace(' ', '-')}.html"
            file.write_text(crew_page(done), encoding="utf-8")
            for window, size in (("phone", PHONE), ("desk", DESK)):
                paint, steps = measured(browser, file, size)
                table.add_row(
                    name,
                    str(len(done.job.house.scenario.frames)),
                    str(round(file.stat().st_size / 1000)),
                    window,
                    f"{paint:.0f}",
                    *(f"{statistics.median(took):.0f} / {max(took):.0f}" for took in steps),
                )
    Console().print(table)


if __name__ == "__main__":
    main()
