"""Which lines are open at a moment, told from moments before it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from packseq.routes.crossing import Flags
from packseq.routes.sightlines import Bits


@dataclass(frozen=True, slots=True)
class _Moment:
    """The keys that block at a moment, and which lines cross none of them."""

    active: Bits
    lines: Flags


class Opened:
    """Tells which lines are open, going on from the last moment asked about at which no more blocked.

    A house goes up frame by frame, so that only the lines that the newest frames block have to be taken
    away. `crossed` holds what the lines cross, as in `Crossed`.
    """

    def __init__(self, crossed: Bits) -> None:
        byte_count, line_count = crossed.shape
        self._crossed = crossed
        # Each moment blocks more than the one before it.
        self._moments = [_Moment(np.zeros(byte_count, dtype=np.uint8), np.ones(line_count, dtype=np.bool_))]

    def lines(self, active: Bits) -> Flags:
        """Return the lines that are open while the keys `active` block."""
        while (self._moments[-1].active & ~active).any():
            self._moments.pop()
        last = self._moments[-1]
        more = active & ~last.active
        if not more.any():
            return last.lines
        blocked = np.zeros_like(last.lines, dtype=np.uint8)
        # Byte by byte: all at once would be megabytes of bits on their way through memory in a large house.
        for byte in np.flatnonzero(more):
            blocked |= self._crossed[byte] & more[byte]
        lines: Flags = last.lines & (blocked == 0)
        self._moments.append(_Moment(active, lines))
        return lines
