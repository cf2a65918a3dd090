"""Which legs a frame can be carried along in which states, learnt from the routes once and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, Way
from packseq.scenario.model import Frame
from packseq.standup.states.bits import Bits, Flags, Numbered, has_all_of_any, has_any

Leg = tuple[Stop, Stop, tuple[float, float] | None]
"""From where, to where, and the height and thickness in mm of what is carried."""


def leg_of(start: Stop, end: Stop, carried: Frame | None) -> Leg:
    """Return what tells legs apart: of a frame in hand only its height and thickness matter."""
    return start, end, None if carried is None else (carried.height_mm, carried.thickness_mm)


@dataclass(frozen=True, slots=True)
class _Route:
    """What must not stand for a route to be open: any frame of `alone`, nor all of a row of `together`."""

    alone: Bits
    together: Bits

    def blocked(self, standing: Bits) -> Flags:
        return has_any(standing, self.alone) | has_all_of_any(standing, self.together)


class OpenLegs:
    """Tells whether frames can be carried.

    One route serves every state in which nothing stands across it, and frames that leave no way in one
    state leave none in any state in which they stand.
    """

    def __init__(self, routes: Routes, frames: Numbered) -> None:
        self._routes, self._frames = routes, frames
        self._known: dict[Leg, list[_Route]] = {}
        self._shut: dict[Leg, Bits] = {}
        self._across: dict[Leg, Bits] = {}
        self.learnt = 0
        """How many routes are known; what `across` returns stays the same while it does."""

    def has_way(self, start: Stop, end: Stop, carried: Frame, standing: Bits) -> Flags:
        """Tell in which states a frame can be carried from one stop to another."""
        return self.has_way_from_any((start,), end, carried, standing)

    def has_way_from_any(self, starts: Sequence[Stop], end: Stop, carried: Frame, standing: Bits) -> Flags:
        """Tell in which states a frame can be carried to a stop from at least one of several others."""
        legs = [leg_of(start, end, carried) for start in starts]
        there = np.ones(len(standing), dtype=np.bool_)
        left = np.arange(len(standing))
        for leg in legs:
            # Where more has come to stand, the route found last is the likeliest to be open still.
            for route in reversed(self._known.get(leg, ())):
                left = left[route.blocked(standing[left])]
                if not len(left):
                    return there
        there[left] = False
        for start, leg in zip(starts, legs, strict=True):
            opened = self._look(start, end, carried, leg, standing[left])
            there[left[opened]] = True
            left = left[~opened]
        return there

    def _look(self, start: Stop, end: Stop, carried: Frame, leg: Leg, standing: Bits) -> Flags:
        """Tell in which states there is a way, where none that is known serves."""
        there = np.zeros(len(standing), dtype=np.bool_)
        left = np.flatnonzero(~has_all_of_any(standing, self._closers(leg)))
        while len(left):
            now = self._frames.names_in(standing[left[0]])
            way = self._routes.way(start, end, carried, now)
            if way is None:
                closer = self._frames.mask(self._routes.closes(start, end, carried, now))[np.newaxis]
                self._shut[leg] = np.concatenate((self._closers(leg), closer))
                left = left[~has_all_of_any(standing[left], closer)]
            else:
                blocked = self._learn(leg, way).blocked(standing[left])
                there[left[~blocked]] = True
                left = left[blocked]
        return there

    def shut_by(self, start: Stop, end: Stop, carried: Frame, standing: Bits) -> Bits | None:
        """Return frames of one set, shape (words,), that between them leave no way; None if there is one."""
        row = standing[np.newaxis]
        if self.has_way(start, end, carried, row)[0]:
            return None
        closers = self._closers(leg_of(start, end, carried))
        shut = ((closers & row) == closers).all(axis=1)
        closer: Bits = closers[int(shut.argmax())]
        return closer

    def across(self, start: Stop, end: Stop, carried: Frame) -> Bits | None:
        """Return the frames that lie across some way that is known, None while none is.

        Where any other frame comes to stand, a way that was there still is.
        """
        return self._across.get(leg_of(start, end, carried))

    def _closers(self, leg: Leg) -> Bits:
        return self._shut.get(leg, np.zeros((0, self._frames.words), dtype=np.uint64))

    def _learn(self, leg: Leg, way: Way) -> _Route:
        frames = self._frames
        alone = frames.mask(name for names in way.across for name in names if len(names) == 1)
        together = [frames.mask(names) for names in way.across if len(names) > 1]
        route = _Route(alone, np.array(together, dtype=np.uint64).reshape(-1, frames.words))
        touched = np.bitwise_or.reduce([alone, *together])
        self._across[leg] = self._across.get(leg, frames.mask(())) | touched
        self._known.setdefault(leg, []).append(route)
        self.learnt += 1
        return route
