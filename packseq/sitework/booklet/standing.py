"""The standing sheet: every lift in order, and the braces fixed before anyone lets go."""

from __future__ import annotations

from collections.abc import Mapping

from packseq.plan.model import Move
from packseq.sheet import Column, Section, Sheet, Table, Words
from packseq.sitework.braces.bracing import Bracing
from packseq.sitework.braces.order import Stood
from packseq.sitework.cautions import BRACING, DEFERRAL, LIFTING, NO_FIGURE_DECIDES, WIND

TITLE = "Standing the frames"

_BEFORE = (
    "Work down the list; tick each lift. A frame that cannot be lifted, carried or stood as it is written "
    "stays where it is until the leader has decided: record what happened, and plan again from there."
)


def standing_sheet(bracing: Bracing, level: int) -> Sheet:
    """Return the sheet of one level: set-asides and stands in the order of the plan."""
    return Sheet(
        TITLE,
        bracing.done.job.house.scenario.name,
        (LIFTING, WIND, BRACING, NO_FIGURE_DECIDES, DEFERRAL),
        (Section("Every lift in order", (Words((_BEFORE,)), _table(bracing, level))),),
    )


def _table(bracing: Bracing, level: int) -> Table:
    columns = (
        Column("move", number=True),
        Column("do"),
        Column("frame"),
        Column("from"),
        Column("to"),
        Column("people", number=True),
        Column("shift first"),
        Column("fix before letting go"),
        Column("done", to_fill_in=True),
    )
    stood = {each.frame: each for each in bracing.stands}
    frames = bracing.done.job.house.scenario.frames
    moves = [move for move in bracing.done.plan.moves if frames[move.frame].level == level]
    rows = tuple(_row(bracing, move, stood) for move in moves)
    return Table(columns, rows)


def _row(bracing: Bracing, move: Move, stood: Mapping[str, Stood]) -> tuple[str, ...]:
    if move.do == "stand":
        doing, to = f"stand {move.stand}", bracing.done.job.house.run_of[move.frame].name
        shift = ", ".join(stood[move.frame].to_shift)
        fix = ", ".join(brace.name for brace in stood[move.frame].braces) or "its joints"
    else:
        doing, to, shift, fix = "set aside", str(move.to), "", ""
    return (str(move.n), doing, move.frame, str(move.origin), to, str(move.people), shift, fix, "")
