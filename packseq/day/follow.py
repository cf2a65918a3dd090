"""How far a plan is carried out, and what happened that it does not know of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packseq.day.events import Begun, Event, Found, Missing, SetAside, Stood
from packseq.day.journal import Noted, counting
from packseq.plan.model import Move, Plan


@dataclass(frozen=True, slots=True)
class Followed:
    """A plan against a journal.

    Parameters
    ----------
    done
        The moves that lines of the journal carry out, in the order of the plan.
    open
        The moves still to be carried out: those of frames that stand are left out.
    unknown
        Lines that count and that the plan does not know of.
    """

    done: tuple[Move, ...]
    open: tuple[Move, ...]
    unknown: tuple[Noted, ...]


def follow(plan: Plan, lines: Sequence[Noted]) -> Followed:
    """Return how far a plan is carried out.

    Each line carries out the first move of its frame that is not done yet and does the same. A plan
    made in the middle of the job knows the lines that it was made from; it does not know of one of
    them that was taken back since.

    Parameters
    ----------
    plan
        The plan.
    lines
        The sound lines of the journal, in order.
    """
    known = 0 if plan.begins is None else plan.begins.lines
    counted = counting(lines)
    gone = frozenset(counting(lines[:known])).difference(counted)
    unknown = sorted(gone, key=lambda noted: noted.row)
    done: set[int] = set()
    after = frozenset(lines[known:])
    for noted in counted:
        if noted not in after or isinstance(noted.event, Begun):
            continue
        fits = (move.n for move in plan.moves if move.n not in done and carries_out(noted.event, move))
        number = next(fits, None)
        if number is None:
            unknown.append(noted)
        else:
            done.add(number)
    standing = _standing(counted)
    return Followed(
        done=tuple(move for move in plan.moves if move.n in done),
        open=tuple(move for move in plan.moves if move.n not in done and move.frame not in standing),
        unknown=tuple(unknown),
    )


def _standing(counted: Sequence[Noted]) -> frozenset[str]:
    standing: set[str] = set()
    for noted in counted:
        match noted.event:
            case Stood():
                standing.add(noted.event.frame)
            case SetAside() | Missing() | Found():
                standing.discard(noted.event.frame)
    return frozenset(standing)


def carries_out(event: Event, move: Move) -> bool:
    """Tell whether a line says that a move was done."""
    match event:
        case Stood():
            return move.do == "stand" and move.frame == event.frame
        case SetAside():
            return (
                move.do == "set aside"
                and move.to is not None
                and move.frame == event.frame
                and (move.to.spot, move.to.pack) == (event.to.spot, event.to.pack)
            )
        case _:
            return False
