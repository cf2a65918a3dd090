"""How large the crew's page is, how soon it is painted and how long a step takes, in headless Chromium.

The demos, and an invented house of 60 frames; the order is that of a crew without a plan, which needs
no search. A step is measured from the press of Next, or of Done, until the browser has laid it out.
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
from playwright.sync_api import Browser
from showing import empty_table

from packseq.house.derive import derive_house
from packseq.page.crew import crew_page

FIRST_PAINT = """() => new Promise((told) => {
  const first = (list) => list.getEntries().find((each) => each.name === "first-contentful-paint").startTime;
  new PerformanceObserver((list) => told(first(list))).observe({ type: "paint", buffered: true });
})"""

STEPS = """async (pressed) => {
  document.querySelector("[data-view=steps]").click();
  const button = document.getElementById(pressed);
  const drawn = () => new Promise((told) => requestAnimationFrame(() => setTimeout(told, 0)));
  const took = [];
  await drawn();
  while (!button.disabled) {
    const began = performance.now();
    button.click();
    document.body.getBoundingClientRect();
    took.push(performance.now() - began);
    await drawn();
  }
  return took;
}"""


def measured(browser: Browser, file: Path, size: dict[str, int], pressed: str) -> tuple[float, list[float]]:
    page = browser.new_page(viewport={"width": size["width"], "height": size["height"]})
    page.goto(file.as_uri())
    paint: float = page.evaluate(FIRST_PAINT)
    steps: list[float] = page.evaluate(STEPS, pressed)
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
                paint, steps = measured(browser, file, size, "next")
                _, ticks = measured(browser, file, size, "done")
                table.add_row(
                    name,
                    str(len(done.job.house.scenario.frames)),
                    str(round(file.stat().st_size / 1000)),
                    window,
                    f"{paint:.0f}",
                    *(f"{statistics.median(took):.0f} / {max(took):.0f}" for took in (steps, ticks)),
                )
    Console().print(table)


if __name__ == "__main__":
    main()
