"""Which frames the rules of order let be stood next, for many states at a time."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from packseq.house.model import LevelHouse
from packseq.standup.job import Job
from packseq.standup.states.bits import Bits, Flags, Numbered, has_all, has_any, missing
from packseq.standup.surely import sure_before


class StandOrder:
    """The rules reference-first, lap-order, joined, perimeter-first and level-order as bits.

    They say what may be stood next by what stands, wherever frames lie.
    """

    def __init__(self, job: Job, frames: Numbered) -> None:
        house = job.house
        self._choices = house.scenario.stand
        before = sure_before(house, job.direction, job.rules)
        self._before = {name: frames.mask(before[name]) for name in frames.names}
        self._touching = {name: frames.mask(house.touches[name]) for name in frames.names}
        self._level: dict[str, Bits] = {}
        self._perimeter: dict[str, Bits] = {}
        self._beside: dict[str, Bits] = {}
        self._internal: set[str] = set()
        self._below: dict[str, Bits] = {}
        self._in_turn: dict[str, list[tuple[Bits, Bits]]] = {}
        below: tuple[str, ...] = ()
        for level in house.levels:
            here = (*level.perimeter, *level.internals)
            for name in here:
                self._level[name] = frames.mask(here)
                self._perimeter[name] = frames.mask(level.perimeter)
                self._below[name] = frames.mask(below)
            for name in level.perimeter:
                self._beside[name] = frames.mask(neighbours(level, name))
            self._internal |= set(level.internals)
            if self._choices.lap == "one-way":
                # Only what stood out of turn before the plan began can break this.
                around = level.stand_round(job.direction)
                turns = [(frames.mask([one]), frames.mask([next_one])) for one, next_one in pairwise(around)]
                self._in_turn |= dict.fromkeys(level.internals, turns)
            below = (*below, *here)

    def may_stand(self, name: str, standing: Bits) -> Flags:
        """Tell in which states a frame that does not stand may be stood next."""
        may = has_all(standing, self._before[name])
        begun = has_any(standing, self._level[name])
        may &= has_any(standing, self._touching[name]) | ~begun
        if name not in self._internal:
            if self._choices.lap == "both-ways":
                may &= has_any(standing, self._beside[name]) | ~has_any(standing, self._perimeter[name])
        elif not self._choices.internals_any_time:
            may &= missing(standing, self._perimeter[name]) <= self._choices.hold_open
            for one, next_one in self._in_turn.get(name, ()):
                may &= has_any(standing, one) | ~has_any(standing, next_one)
        return may

    def floor_is_there(self, name: str, standing: Bits) -> Flags:
        """Tell in which states every frame of the levels below a frame stands."""
        below = self._below[name]
        return has_all(standing, below) if below.any() else np.ones(len(standing), dtype=np.bool_)


def neighbours(level: LevelHouse, name: str) -> tuple[str, ...]:
    """Return the frames before and after a frame in its perimeter, round the end if it closes."""
    around, place = level.perimeter, level.perimeter.index(name)
    if level.closed:
        return (around[place - 1], around[(place + 1) % len(around)])
    return (*around[max(place - 1, 0) : place], *around[place + 1 : place + 2])
