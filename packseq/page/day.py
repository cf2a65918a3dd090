"""The day at a glance, for the supervisor: what it comes to, who is needed when, what to take care of."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check import Replay
from packseq.page.markup import listed, text
from packseq.page.sheets import cautions_markup, table_markup
from packseq.report.cautions import CAUTIONS
from packseq.report.headline import HOW_WALKED, stage_sentence
from packseq.report.remarks import remarks
from packseq.report.schedule import Schedule
from packseq.report.words import counted, metres, names, put_on, wall
from packseq.sheet import Column, Table

_HEAVY = (
    Column("step", number=True),
    Column("frame"),
    Column("kg", number=True),
    Column("what"),
)


def day_at_a_glance(done: Replay, schedule: Schedule) -> str:
    """Return the day in short: headline, what to know first, the lifts that need most hands."""
    crew = done.job.house.scenario.crew
    return "".join(
        (
            text("p", _headline(done), class_="headline"),
            text("p", f"Crew: {counted(crew.people, 'person', 'people')}; {_teams(done)}."),
            cautions_markup(CAUTIONS),
            text("h3", "Before you begin"),
            listed("ul", remarks(done, schedule)),
            text("h3", "Lifts that need the most hands"),
            _most_hands(done),
            text("h3", "How good this order is"),
            listed("ul", (*map(stage_sentence, done.plan.stages), HOW_WALKED)),
        )
    )


def _headline(done: Replay) -> str:
    cost = done.cost
    frames = counted(sum(move.do == "stand" for move in done.plan.moves), "frame")
    lifts = counted(cost.extra_lifts, "extra lift")
    return (
        f"{frames} to stand in {counted(len(done.plan.moves), 'lift')}: {lifts}, "
        f"{metres(cost.walking_mm)} m to walk."
    )


def _teams(done: Replay) -> str:
    teams = sorted({move.people for move in done.plan.moves})
    counts = (
        f"{counted(sum(move.people == team for move in done.plan.moves), 'lift')} by {team}" for team in teams
    )
    return names(counts)


def _most_hands(done: Replay) -> str:
    most = max(move.people for move in done.plan.moves)
    title = f"Lifts by {most} people (a mass with * is an estimate)"
    return table_markup(Table(_HEAVY, tuple(_heavy_rows(done, most)), title))


def _heavy_rows(done: Replay, people: int) -> Iterator[tuple[str, ...]]:
    house = done.job.house
    for move in done.plan.moves:
        if move.people == people:
            frame = house.scenario.frames[move.frame]
            about = "* " if frame.mass_is_estimate else ""
            what = (
                f"set aside on {put_on(move)}" if move.to else f"no. {move.stand}, {wall(house, move.frame)}"
            )
            yield str(move.n), move.frame, f"{about}{frame.mass_kg:.0f}", what
