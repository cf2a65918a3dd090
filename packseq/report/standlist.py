"""The stand list: one row for each frame, in the order in which they stand."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from rich.console import RenderableType

from packseq.house.model import House
from packseq.plan.model import Move
from packseq.report.layout import columns, section
from packseq.report.schedule import Schedule, Turn
from packseq.report.words import names, put_on, taken_from, wall


def stand_list(house: House, schedule: Schedule) -> RenderableType:
    """Return the stands in order, each with what must be set aside first."""
    headings = ("no.", "set aside first (people)", "then stand", "wall", "take it from", "people", "touches")
    rows = (_row(house, turn) for turn in schedule.turns)
    return section("Stand list", columns(headings, rows, right={"no.", "people"}))


def _aside(moves: Sequence[Move]) -> str:
    """Return such as "E5 (4), E4 (3) on spot S1; E1 (4) on spot S2"."""
    together = groupby(moves, key=put_on)
    return "; ".join(
        f"{', '.join(f'{move.frame} ({move.people})' for move in group)} on {where}"
        for where, group in together
    )


def _row(house: House, turn: Turn) -> tuple[str, ...]:
    stand = turn.stand
    return (
        str(turn.number),
        _aside(turn.aside),
        stand.frame,
        wall(house, stand.frame),
        taken_from(stand),
        str(stand.people),
        names(stand.touches or ()),
    )
