"""The stand order as one table, lift by lift, for the supervisor and for paper."""

from __future__ import annotations

from packseq.house.model import House
from packseq.page.ticktable import tick_table
from packseq.plan.model import Move, Plan
from packseq.report.words import names, put_on, taken_from, wall
from packseq.sheet import Column

_COLUMNS = (
    Column("step", number=True),
    Column("do"),
    Column("frame"),
    Column("take it from"),
    Column("put it"),
    Column("people", number=True),
    Column("touches"),
)


def stand_order(house: House, plan: Plan) -> str:
    """Return every lift in order, set-asides among them, with a box to tick."""
    rows = ((move.n, _row(house, move)) for move in plan.moves)
    return tick_table("Every lift in its order; no. is the stand number", _COLUMNS, rows)


def _row(house: House, move: Move) -> tuple[str, ...]:
    standing = move.do == "stand"
    return (
        str(move.n),
        f"stand no. {move.stand}" if standing else "set aside",
        move.frame,
        taken_from(move),
        wall(house, move.frame) if standing else put_on(move),
        str(move.people),
        names(move.touches or ()) if standing else "",
    )
