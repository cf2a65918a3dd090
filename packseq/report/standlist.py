"""The stand list: one row for each frame, in the order in which they stand."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from rich.console import RenderableType

from packseq.check.timing import DayTime
from packseq.house.model import House
from packseq.plan.model import Move
from packseq.report.daytime import clock
from packseq.report.layout import columns, section
from packseq.report.schedule import Schedule, Turn
from packseq.report.words import names, put_on, taken_from, wall


def stand_list(house: House, schedule: Schedule, day: DayTime) -> RenderableType:
    """Return the stands in order, each with what must be set aside first and when it may be done.

    `day` is the estimate of the same plan.
    """
    headings = (
        "no.",
        "set aside first (people)",
        "then stand",
        "wall",
        "take it from",
        "people",
        "touches",
        "done, about (h:min)",
    )
    rows = (_row(house, turn, day) for turn in schedule.turns)
    return section("Stand list", columns(headings, rows, right={"no.", "people", headings[-1]}))


def _aside(moves: Sequence[Move]) -> str:
    """Return such as "E5 (4), E4 (3) on spot S1; E1 (4) on spot S2"."""
    together = groupby(moves, key=put_on)
    return "; ".join(
        f"{', '.join(f'{move.frame} ({move.people})' for move in group)} on {where}"
        for where, group in together
    )


def _row(house: House, turn: Turn, day: DayTime) -> tuple[str, ...]:
    stand = turn.stand
    return (
        str(turn.number),
        _aside(turn.aside),
        stand.frame,
        wall(house, stand.frame),
        taken_from(stand),
        str(stand.people),
        names(stand.touches or ()),
        clock(day.moves[stand.n - 1].ends_s),
    )
