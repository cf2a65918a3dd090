"""A plan seen by stand and by frame, for whoever writes it out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from packseq.plan.model import Move, Plan


@dataclass(frozen=True, slots=True)
class Turn:
    """One stand, with what is set aside since the stand before it."""

    stand: Move
    aside: tuple[Move, ...]

    @property
    def number(self) -> int:
        """The stand's number, from 1."""
        return self.stand.stand or 0


@dataclass(frozen=True, slots=True)
class Stay:
    """One wait of a set-aside frame: from the move that put it down to the one that takes it up."""

    put_down: Move
    taken_up: Move

    def on(self, *, spot: str | None = None, pack: str | None = None) -> bool:
        """Tell whether the frame waits on that spot, or on top of that pack."""
        where = self.put_down.to
        return where is not None and (where.spot, where.pack) == (spot, pack)


@dataclass(frozen=True)
class Schedule:
    """A plan in which every frame is stood.

    Parameters
    ----------
    plan
        The plan.
    turns
        Its stands in order.
    lifts_of
        Every lift of each frame in order; the last one stands it.
    next_stand
        For the number of each move, the number of the next frame stood: its own for a stand.
    """

    plan: Plan
    turns: tuple[Turn, ...]
    lifts_of: Mapping[str, tuple[Move, ...]]
    next_stand: Mapping[int, int]

    def stand_number(self, frame: str) -> int:
        """Return the number under which a frame is stood."""
        return self.lifts_of[frame][-1].stand or 0

    @property
    def stays(self) -> tuple[Stay, ...]:
        """Every wait, in the order in which the frames are taken up again."""
        stays = (
            Stay(put_down, taken_up)
            for lifts in self.lifts_of.values()
            for put_down, taken_up in pairwise(lifts)
        )
        return tuple(sorted(stays, key=lambda stay: stay.taken_up.n))


def schedule_of(plan: Plan) -> Schedule:
    """Return the schedule of a plan that keeps the rules."""
    turns: list[Turn] = []
    aside: list[Move] = []
    lifts_of: dict[str, list[Move]] = defaultdict(list)
    next_stand: dict[int, int] = {}
    for move in plan.moves:
        lifts_of[move.frame].append(move)
        if move.do == "set aside":
            aside.append(move)
            continue
        turn = Turn(move, tuple(aside))
        next_stand |= {lift.n: turn.number for lift in (*turn.aside, move)}
        turns.append(turn)
        aside.clear()
    lifts = {name: tuple(moves) for name, moves in lifts_of.items()}
    return Schedule(plan, tuple(turns), lifts, next_stand)
