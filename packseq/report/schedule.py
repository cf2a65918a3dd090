"""A plan seen by stand and by frame, for whoever writes it out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest

from packseq.plan.model import Move, Plan, Where


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
    """One wait of a frame on a spot or on top of a pack.

    Parameters
    ----------
    frame
        The frame that waits.
    where
        The spot or pack.
    put_down
        The move that put it there; None where it lay there before the first move.
    taken_up
        The move that takes it up; None where no move does: the plan leaves the frame out.
    """

    frame: str
    where: Where
    put_down: Move | None
    taken_up: Move | None

    def on(self, *, spot: str | None = None, pack: str | None = None) -> bool:
        """Tell whether the frame waits on that spot, or on top of that pack."""
        return (self.where.spot, self.where.pack) == (spot, pack)


@dataclass(frozen=True)
class Schedule:
    """A plan that keeps the rules.

    Parameters
    ----------
    plan
        The plan.
    turns
        Its stands in order.
    lifts_of
        Every lift of each frame in order; the last one stands it, unless the plan leaves it out.
        Frames that are not lifted are not in it.
    next_stand
        For the number of each move, the number of the next frame stood: its own for a stand; None
        where no more are stood.
    numbers
        The stand number of every frame that stands by the end, those that stood before included.
    """

    plan: Plan
    turns: tuple[Turn, ...]
    lifts_of: Mapping[str, tuple[Move, ...]]
    next_stand: Mapping[int, int | None]
    numbers: Mapping[str, int]

    def until(self, move: Move) -> str:
        """Return by when a move is done: ``before no. 4``, or that it comes last."""
        number = self.next_stand[move.n]
        return "after the last" if number is None else f"before no. {number}"

    @property
    def stays(self) -> tuple[Stay, ...]:
        """Every wait, in the order in which the frames are taken up again; those that stay come last."""
        waits = (*self._waiting_before(), *self._set_aside())
        return tuple(
            sorted(
                waits,
                key=lambda stay: (stay.taken_up is None, 0 if stay.taken_up is None else stay.taken_up.n),
            )
        )

    def _waiting_before(self) -> Iterator[Stay]:
        begin = self.plan.begins
        if begin is None:
            return
        spots = ((Where(spot=spot), frames[::-1]) for spot, frames in begin.spots.items())
        tops = (
            (Where(pack=pack), layer.frames)
            for pack, layers in begin.packs.items()
            for layer in layers
            if layer.layer is None
        )
        for where, frames in (*spots, *tops):
            for frame in frames:
                yield Stay(frame, where, None, next(iter(self.lifts_of.get(frame, ())), None))

    def _set_aside(self) -> Iterator[Stay]:
        for frame, lifts in self.lifts_of.items():
            for put_down, taken_up in zip_longest(lifts, lifts[1:]):
                if put_down.to is not None:
                    yield Stay(frame, Where(pack=put_down.to.pack, spot=put_down.to.spot), put_down, taken_up)


def schedule_of(plan: Plan) -> Schedule:
    """Return the schedule of a plan that keeps the rules."""
    turns: list[Turn] = []
    aside: list[Move] = []
    lifts_of: dict[str, list[Move]] = defaultdict(list)
    next_stand: dict[int, int | None] = {}
    for move in plan.moves:
        lifts_of[move.frame].append(move)
        if move.do == "set aside":
            aside.append(move)
            continue
        turn = Turn(move, tuple(aside))
        next_stand |= {lift.n: turn.number for lift in (*turn.aside, move)}
        turns.append(turn)
        aside.clear()
    next_stand |= dict.fromkeys((move.n for move in aside), None)
    lifts = {name: tuple(moves) for name, moves in lifts_of.items()}
    before = {name: number for number, name in enumerate(plan.stood_before, 1)}
    numbers = before | {turn.stand.frame: turn.number for turn in turns}
    return Schedule(plan, tuple(turns), lifts, next_stand, numbers)
