"""How much farther than it need be a lift makes the team walk, roughly: to tell good states from bad."""

from __future__ import annotations

import math

import numpy as np

from packseq.standup.states.bits import Whole
from packseq.standup.states.kinds import Kind
from packseq.standup.states.yard import Yard


class Detours:
    """Straight distances between lines, packs and the spots nearest to them.

    What is walked at least for each frame is taken off, so that states with other frames done compare.
    """

    def __init__(self, yard: Yard) -> None:
        lines = [stop.point for stop in yard.lines]
        packs = [stop.point for stop in yard.stops[: len(yard.packs)]]
        to_pack = np.array([[math.dist(line, pack) for pack in packs] for line in lines])
        self._pack_of = np.array(yard.pack_of)
        self._from_line = np.rint(to_pack - to_pack.min(axis=1, keepdims=True)).astype(np.int64)
        self._aside = [self._by_spot(yard, frame) for frame in range(len(lines))]

    def of(self, frame: int, kind: Kind, last: Whole) -> Whole:
        """Return the detour of lifting a frame after the frame stood last, in mm; -1: none stood yet."""
        if kind is Kind.OFF_SPOT:
            return np.zeros(len(last), dtype=np.int64)
        walk: Whole = np.where(last < 0, 0, self._from_line[last, self._pack_of[frame]])
        return walk + self._aside[frame] if kind is Kind.ASIDE else walk

    @staticmethod
    def _by_spot(yard: Yard, frame: int) -> int:
        """Return how much longer the way by the best spot is than the way straight from the pack."""
        pack, line = yard.stops[yard.pack_of[frame]].point, yard.lines[frame].point
        ways = [
            math.dist(pack, spot.point) + math.dist(spot.point, line)
            for spot in (yard.stops[len(yard.packs) + number] for number in yard.fitting[frame])
        ]
        return round(min(ways, default=0.0) - math.dist(pack, line)) if ways else 0
