"""How the extra lifts so far compare with those planned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packseq.day.events import SetAside
from packseq.day.journal import Noted, counting
from packseq.day.present import Present
from packseq.plan.model import Plan


@dataclass(frozen=True, slots=True)
class ExtraLifts:
    """Set-asides: so far; planned by the time that the next frame stands; planned in all.

    Those before a plan was made in the middle of the job count in all three.
    """

    so_far: int
    planned_by_now: int
    planned: int


def extra_lifts(now: Present, plan: Plan, lines: Sequence[Noted]) -> ExtraLifts:
    """Return the extra lifts so far against those of the plan."""
    known = 0 if plan.begins is None else plan.begins.lines
    before = sum(isinstance(noted.event, SetAside) for noted in counting(lines[:known]))
    next_stand = len(now.state.stood) + 1
    by_now = before
    for move in plan.moves:
        if move.do == "set aside":
            by_now += 1
        elif (move.stand or 0) >= next_stand:
            break
    planned = before + sum(move.do == "set aside" for move in plan.moves)
    return ExtraLifts(now.extra_lifts, by_now, planned)
