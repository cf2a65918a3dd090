"""The stand order with its braces: what holds each frame when it goes up, and what must be added."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from packseq.check import Replay
from packseq.check.state import State
from packseq.scenario.model import Frame
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.braces.holding import Braced, Hold, first_corner, holds
from packseq.sitework.braces.placing import Brace, Moment, Tie, Yard, place_brace, what_is_in_the_way
from packseq.sitework.braces.room import Way
from packseq.sitework.braces.spacing import Wanted, wanted_braces

LEAST_ALONE = 2
"""A frame that nothing holds is never left with fewer braces of its own."""


@dataclass(frozen=True, slots=True)
class Stood:
    """One stand: what holds the frame as it goes up, and the braces fixed before anyone lets go.

    `alone` tells that nothing that stands holds it; `across_gap` that it stands across a declared gap from
    the frames it follows. `to_shift` are the braces, fixed before, that lie over the frame's line: for each
    of them another is fixed and it is shifted before the frame goes up.
    """

    stand: int
    frame: str
    alone: bool
    across_gap: bool
    held_by: tuple[Hold, ...]
    braces: tuple[Brace, ...]
    to_shift: tuple[str, ...] = ()

    @property
    def undecided(self) -> bool:
        """Whether somebody must decide how to hold it before it leaves its pack."""
        own = sum(brace.fixed and brace.frame.name == self.frame for brace in self.braces)
        return not all(brace.fixed for brace in self.braces) or (self.alone and own < LEAST_ALONE)


def brace_order(done: Replay, choices: BraceChoices) -> tuple[Stood, ...]:
    """Return every stand of a plan that keeps the rules, with what holds the frame and its braces.

    Parameters
    ----------
    done
        The plan as replayed.
    choices
        The rule for braces.
    """
    yard = Yard(done.job, choices)
    before = (done.job.beginning, *done.states())
    in_use = _in_use_from_now_on(before)
    braces: tuple[Brace, ...] = ()
    stood: list[Stood] = []
    for state, spots, move in zip(before, in_use, done.plan.moves, strict=False):
        if move.stand is not None:
            step = _stand(yard, Moment(state, spots, braces), move.frame, move.stand)
            stood.append(step)
            braces = (*braces, *step.braces)
    return tuple(stood)


def _in_use_from_now_on(states: Sequence[State]) -> list[frozenset[str]]:
    """Return, for each state, the spots on which something lies then or later."""
    used: frozenset[str] = frozenset()
    in_use = []
    for state in reversed(states):
        used |= {heap.name for heap, layers in state.heaps.items() if layers and heap.kind != "pack"}
        in_use.append(used)
    return in_use[::-1]


def _stand(yard: Yard, moment: Moment, name: str, number: int) -> Stood:
    house, standing = yard.job.house, moment.state.standing
    frame = yard.frames[name]
    to_shift = tuple(
        brace.name for brace in moment.braces if brace.way is not None and name in brace.way.crosses
    )
    held_by = holds(house, frame, standing, _braced(moment.braces), yard.choices)
    wanted = wanted_braces(frame, [hold.at_mm for hold in held_by], yard.choices, alone=not held_by)
    moment = _fixed(yard, moment, [(frame, want) for want in wanted], number)
    corner = first_corner(house, frame, standing, _braced(moment.braces))
    moment = _fixed(yard, moment, corner, number)
    beside_gap = any(name in gap and (set(gap) - {name}) & standing for gap in house.scenario.gaps)
    return Stood(
        stand=number,
        frame=name,
        alone=not held_by,
        across_gap=beside_gap and not held_by,
        held_by=held_by,
        braces=tuple(brace for brace in moment.braces if brace.stand == number),
        to_shift=to_shift,
    )


def _fixed(yard: Yard, moment: Moment, wanted: Iterable[tuple[Frame, Wanted]], number: int) -> Moment:
    """Return the moment with the braces that frames want, placed one after another."""
    for frame, want in wanted:
        found = place_brace(yard, moment, frame, want)
        brace = Brace(
            name=f"B{len(moment.braces) + 1}",
            stand=number,
            frame=frame,
            why=want.why,
            wanted_mm=want.best_mm,
            way=found if isinstance(found, Way) else None,
            tie=found if isinstance(found, Tie) else None,
            in_the_way=() if found else what_is_in_the_way(yard, moment, frame, want),
        )
        moment = replace(moment, braces=(*moment.braces, brace))
    return moment


def _braced(braces: Iterable[Brace]) -> Braced:
    """Return where braces hold each frame; a place with room for none does not."""
    found: defaultdict[str, list[float]] = defaultdict(list)
    for brace in braces:
        if brace.fixed:
            found[brace.frame.name].append(brace.at_mm)
    return found
