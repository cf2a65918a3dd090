"""The lengths of legs in many states at a time."""

from __future__ import annotations

import numpy as np

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, Way
from packseq.scenario.model import Frame
from packseq.standup.states.bits import Bits, Numbered, Whole, has_all
from packseq.standup.states.openlegs import Leg, OpenLegs, leg_of

NO_WAY = -1
"""The length of a leg that cannot be walked."""


class LegTable:
    """Legs asked of the routes once, and kept for every state in which the answer is the same.

    A shortest route stays the shortest while more frames come to stand, until one of them stands
    across it. So one answer, for the frames that stand in all of many states, serves all of these
    states in which nothing else stands across it.
    """

    def __init__(self, routes: Routes, frames: Numbered) -> None:
        self.routes = routes
        self.frames = frames
        self.open = OpenLegs(routes, frames)
        self._known: dict[tuple[Leg, bytes], Way | None] = {}

    def lengths_mm(self, start: Stop, end: Stop, carried: Frame | None, standing: Bits) -> Whole:
        """Return the whole mm of a leg in each state, `NO_WAY` where there is none.

        Parameters
        ----------
        start, end, carried
            The leg, as `Routes.leg` takes it.
        standing
            What stands in each state.
        """
        lengths = np.full(len(standing), NO_WAY, dtype=np.int64)
        groups = [np.arange(len(standing))] if len(standing) else []
        while groups:
            rows = groups.pop()
            way = self._way(start, end, carried, np.bitwise_and.reduce(standing[rows], axis=0))
            if way is None:
                continue
            left = rows
            for frames in way.across:
                hit = has_all(standing[left], self.frames.mask(frames))
                if hit.any():
                    # All of these have the frames across the way in common: they get on with fewer ways.
                    groups.append(left[hit])
                    left = left[~hit]
            lengths[left] = way.mm
        return lengths

    def _way(self, start: Stop, end: Stop, carried: Frame | None, standing: Bits) -> Way | None:
        key = (leg_of(start, end, carried), standing.tobytes())
        if key not in self._known:
            self._known[key] = self.routes.way(start, end, carried, self.frames.names_in(standing))
        return self._known[key]
