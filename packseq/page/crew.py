"""The page that the crew follows: one HTML file, on a phone or on paper."""

from __future__ import annotations

from packseq.check import Replay
from packseq.drawing.floorplan import plan_drawing
from packseq.page.cards import spot_cards, unpacking_cards
from packseq.page.day import day_at_a_glance
from packseq.page.journal import journal_view
from packseq.page.live import data_element, live_drawing, page_data
from packseq.page.markup import document, figure, tag, text
from packseq.page.order import stand_order
from packseq.page.steps import step_cards
from packseq.page.tags import frame_tags
from packseq.report.schedule import Schedule, schedule_of

_VIEWS = (
    ("day", "The day"),
    ("steps", "Steps"),
    ("plan", "Plan"),
    ("order", "Order"),
    ("packs", "Packs"),
    ("tags", "Tags"),
    ("journal", "Journal"),
)
"""Id and name of every part of the page, in the order of the sheet."""


def crew_page(done: Replay) -> str:
    """Return the page for a plan that keeps the rules.

    Raises
    ------
    ValueError
        When the plan fails its check: nobody shall work by it.
    """
    if not done.kept:
        raise ValueError("the plan fails its check")
    house, plan = done.job.house, done.plan
    schedule = schedule_of(plan)
    parts = {
        "day": text("button", "Go to the steps", type="button", id="begin", class_="scripted screen")
        + day_at_a_glance(done, schedule),
        "steps": _steps(done, schedule),
        "plan": "".join(_floor_plan(done, level.level) for level in house.levels),
        "order": stand_order(house, plan),
        "packs": unpacking_cards(house, schedule) + spot_cards(house, schedule),
        "tags": frame_tags(done, schedule),
        "journal": journal_view(done),
    }
    buttons = (
        text("button", name, type="button", data_view=view, aria_pressed="false") for view, name in _VIEWS
    )
    header = tag(
        "header",
        text("h1", plan.scenario),
        tag("p", id="progress", class_="scripted", role="status"),
        text("button", "Menu", type="button", id="menu", class_="scripted", aria_expanded="true"),
        tag("nav", *buttons, class_="scripted open", aria_label="Parts of this page"),
    )
    sections = (
        tag("section", text("h2", _heading(view)), parts[view], id=view, class_=f"view {view}")
        for view, _ in _VIEWS
    )
    body = header + tag("main", *sections, id="main") + _bar() + data_element(page_data(done), "page-data")
    return document(
        f"{plan.scenario}: crew page",
        body,
        styles=("base.css", "crew.css", "live.css"),
        scripts=("journal.js", "drawing.js", "crew.js"),
    )


def _heading(view: str) -> str:
    return {
        "day": "The day at a glance",
        "steps": "Step by step",
        "plan": "Floor plan",
        "order": "Stand order",
        "packs": "Packs and spots",
        "tags": "Tags: print, cut, tie to the frames",
        "journal": "Journal",
    }[view]


def _steps(done: Replay, schedule: Schedule) -> str:
    house, plan = done.job.house, done.plan
    drawings = (
        tag("div", live_drawing(house, plan, level.level).svg(), class_="level", data_level=str(level.level))
        for level in house.levels
    )
    live = tag(
        "figure",
        *drawings,
        text(
            "figcaption",
            "Black: stands. Thin outline: not yet. Thick outline and arrow: this step. Numbers: the order.",
        ),
        class_="live scripted",
        id="live",
    )
    lies = tag("details", text("summary", "What lies where now"), tag("div", id="lies"), class_="scripted")
    over = tag(
        "div", text("h3", "Every frame stands."), class_="finished scripted", id="finished", hidden=True
    )
    told = tag("p", id="noted", class_="scripted", hidden=True)
    report = text("button", "Not as planned? Note it", type="button", id="report", class_="scripted")
    text_side = tag("div", told, step_cards(done, schedule), over, class_="now")
    return tag("div", text_side, tag("div", live, report, lies, class_="picture"), class_="sides")


def _floor_plan(done: Replay, level: int) -> str:
    return figure(plan_drawing(done.job.house, level, done.plan), "whole")


def _bar() -> str:
    return tag(
        "div",
        text("button", "Back", type="button", id="back"),
        text("button", "Done", type="button", id="done"),
        text("button", "Next", type="button", id="next"),
        class_="bar scripted",
        id="bar",
        role="group",
        aria_label="Go through the steps",
    )
