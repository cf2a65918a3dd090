"""The lengths of legs in many states at a time."""

from __future__ import annotations

import numpy as np

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, Way
from packseq.scenario.model import Frame
from packseq.standup.states.bits import Bits, Flags, Numbered, Whole, has_all, has_any

NO_WAY = -1
"""The length of a leg that cannot be walked."""


_Leg = tuple[Stop, Stop, tuple[float, float] | None]


def _leg(start: Stop, end: Stop, carried: Frame | None) -> _Leg:
    """Return what tells legs apart: of a frame in hand only its height and thickness matter."""
    return start, end, None if carried is None else (carried.height_mm, carried.thickness_mm)


class LegTable:
    """Legs asked of the routes once, and kept for every state in which the answer is the same.

    A shortest route stays the shortest while more frames come to stand, until one of them stands
    across it. So one answer, for the frames that stand in all of many states, serves all of these
    states in which nothing else stands across it.
    """

    def __init__(self, routes: Routes, frames: Numbered) -> None:
        self.routes = routes
        self.frames = frames
        self._open: dict[_Leg, list[tuple[Bits, list[Bits]]]] = {}
        self._shut: dict[_Leg, list[Bits]] = {}
        self._across: dict[_Leg, Bits] = {}
        self._known: dict[tuple[_Leg, bytes], Way | None] = {}

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

    def has_way(self, start: Stop, end: Stop, carried: Frame, standing: Bits) -> Flags:
        """Tell in which states a frame can be carried from one stop to the other.

        One route serves every state in which nothing stands across it, and frames that leave no way
        in one state leave none in any state in which they stand.
        """
        leg = _leg(start, end, carried)
        routes, closers = self._open.setdefault(leg, []), self._shut.setdefault(leg, [])
        there = np.zeros(len(standing), dtype=np.bool_)
        left = np.arange(len(standing))
        tried = 0
        while len(left):
            for alone, together in routes[tried:]:
                hit = has_any(standing[left], alone)
                for frames in together:
                    hit |= has_all(standing[left], frames)
                there[left[~hit]] = True
                left = left[hit]
            tried = len(routes)
            for frames in closers:
                left = left[~has_all(standing[left], frames)]
            if not len(left):
                break
            now = self.frames.names_in(standing[left[0]])
            way = self.routes.way(start, end, carried, now)
            if way is not None:
                touched = self.frames.mask(name for frames in way.across for name in frames)
                self._across[leg] = self._across.get(leg, self.frames.mask(())) | touched
                alone = self.frames.mask(name for frames in way.across if len(frames) == 1 for name in frames)
                together = [self.frames.mask(frames) for frames in way.across if len(frames) > 1]
                routes.append((alone, together))
            else:
                closers.append(self.frames.mask(self.routes.closes(start, end, carried, now)))
        return there

    def across_ways(self, start: Stop, end: Stop, carried: Frame) -> Bits | None:
        """Return the frames that lie across some way that `has_way` knows of, None while it knows none.

        Where any other frame comes to stand, a way that was there still is.
        """
        return self._across.get(_leg(start, end, carried))

    def _way(self, start: Stop, end: Stop, carried: Frame | None, standing: Bits) -> Way | None:
        key = (_leg(start, end, carried), standing.tobytes())
        if key not in self._known:
            self._known[key] = self.routes.way(start, end, carried, self.frames.names_in(standing))
        return self._known[key]
