"""Which frames the rules of order let be stood next, for many states at a time."""

from __future__ import annotations

import numpy as np

from packseq.house.model import LevelHouse
from packseq.standup.job import Job
from packseq.standup.states.bits import Bits, Flags, Numbered, has_all, has_any, missing
from packseq.standup.surely import sure_pairs


class StandOrder:
    """The rules reference-first, lap-order, joined, perimeter-first and level-order as bits.

    They say what may be stood next by what stands, wherever frames lie.
    """

    def __init__(self, job: Job, frames: Numbered) -> None:
        house = job.house
        self._choices = house.scenario.stand
        before: dict[str, list[str]] = {name: [] for name in frames.names}
        for earlier, later in sure_pairs(house, job.direction, job.rules):
            before[later].append(earlier)
        self._before = {name: frames.mask(names) for name, names in before.items()}
        self._touching = {name: frames.mask(house.touches[name]) for name in frames.names}
        self._level: dict[str, Bits] = {}
        self._perimeter: dict[str, Bits] = {}
        self._beside: dict[str, Bits] = {}
        self._internal: set[str] = set()
        self._below: dict[str, Bits] = {}
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
