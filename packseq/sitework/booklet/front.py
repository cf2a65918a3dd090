"""The first sheet of the booklet: what is to stand, in what order, and where the figures come from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.check import Replay
from packseq.drawing.floorplan import plan_drawing
from packseq.sheet import Column, Part, Picture, Section, Sheet, Table, Words
from packseq.sitework.booklet.choices import JobChoices, chosen
from packseq.sitework.booklet.holdpoints import HoldPoint
from packseq.sitework.cautions import (
    BRACING,
    DEFERRAL,
    FIXING,
    LIFTING,
    NO_FIGURE_DECIDES,
    STRENGTH_OF_BRACES,
    WIND,
)

TITLE = "The job in order"

_DOCS = (
    ("slab check", "docs/slab.md"),
    ("set-out", "docs/setout.md"),
    ("masses", "docs/mass.md"),
    ("lifting and wind", "docs/lifts.md"),
    ("stand order, extra lifts, walking", "docs/rules.md, docs/model.md"),
    ("temporary braces", "docs/braces.md"),
    ("laps: plates, strings, dimensions", "docs/laps.md"),
    ("measured values and their limits", "docs/readings.md, docs/tolerances.md"),
    ("fixings", "docs/fixings.md"),
    ("order of the sheets, hold points", "docs/job.md"),
)
"""For each kind of figure, the document with its formulas and sources."""


_CHOSEN = (
    "Each can be changed when the booklet is made, with the option beside it; the same options make the same "
    "figures on the sheet of one part. What the slab turned out to be (packseq slab --measured) and what was "
    "read (packseq readings --measured) make sheets of their own: put them behind this one."
)

_STAGES = {"walking_mm": "walking", "breaks": "frames stood away from the one before"}
"""What a stage of the search is called on site."""


def front_sheet(
    done: Replay, choices: JobChoices, titles: Sequence[str], points: Sequence[HoldPoint]
) -> Sheet:
    """Return the first sheet.

    Parameters
    ----------
    done
        The plan as replayed.
    choices
        What the booklet goes by.
    titles
        The sheets that follow, in order.
    points
        The hold points, in order.
    """
    house = done.job.house
    return Sheet(
        TITLE,
        house.scenario.name,
        (LIFTING, WIND, BRACING, STRENGTH_OF_BRACES, FIXING, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("The house", (Words(tuple(_house(done))), *_pictures(done))),
            Section("What follows", (_order(titles),)),
            Section("Hold points", (_hold_points(points),)),
            Section("What this booklet goes by", (Words((_CHOSEN,)), _choices(choices))),
            Section("Where the figures come from", (_sources(),)),
        ),
    )


def _house(done: Replay) -> Iterator[str]:
    house, plan = done.job.house, done.plan
    scenario = house.scenario
    levels = "1 level" if len(house.levels) == 1 else f"{len(house.levels)} levels"
    yield (
        f"{len(scenario.frames)} frames on {levels}, in {len(scenario.packs)} packs, for a crew of "
        f"{scenario.crew.people}."
    )
    for level in house.levels:
        wall = house.run_of[level.reference[0]].name
        yield f"Reference wall: {wall}, {', '.join(level.reference)}. The lap goes {done.job.direction}."
    if plan.held_open:
        yield f"Held open until internal frames are in: {', '.join(plan.held_open)}."
    yield f"Extra lifts: {done.cost.extra_lifts}. Walking: {done.cost.walking_mm / 1000:.0f} m."
    for status, words in (("optimal", "Proven best"), ("best found", "Best found, not proven")):
        names = [_STAGES.get(stage.name, stage.name) for stage in plan.stages if stage.status == status]
        if names:
            yield f"{words}: {', '.join(names)}."
    estimated = sum(frame.mass_is_estimate for frame in scenario.frames.values())
    if estimated:
        yield f"{estimated} of {len(scenario.frames)} masses are estimates: weigh, or ask the maker."


def _pictures(done: Replay) -> Iterator[Part]:
    house = done.job.house
    for level in house.levels:
        drawing = plan_drawing(house, level.level, done.plan)
        yield Picture(drawing.svg(), f"{drawing.title}: frames with their stand numbers, packs and spots.")


def _order(titles: Sequence[str]) -> Table:
    columns = (Column("sheet", number=True), Column("what"), Column("done", to_fill_in=True))
    return Table(columns, tuple((str(number), title, "") for number, title in enumerate(titles, 2)))


def _hold_points(points: Sequence[HoldPoint]) -> Table:
    columns = (
        Column("hold point"),
        Column("what must be so"),
        Column("name", to_fill_in=True),
        Column("date", to_fill_in=True),
    )
    return Table(columns, tuple((point.name, point.text, "", "") for point in points))


def _choices(choices: JobChoices) -> Table:
    columns = (Column("what"), Column("here"), Column("changed with"))
    return Table(columns, tuple(chosen(choices)))


def _sources() -> Table:
    return Table((Column("figures"), Column("formulas and sources")), _DOCS)
