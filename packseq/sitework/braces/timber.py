"""What the braces are cut from."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from packseq.sitework.braces.placing import Brace

STOCK_MM = 300
"""Timber is sold in steps of this: common practice, no source."""


@dataclass(frozen=True, slots=True)
class TakeOff:
    """Timber for braces: (stock length in mm, pieces), the longest first; blocks and pegs for their feet."""

    pieces: tuple[tuple[int, int], ...]
    blocks: int
    pegs: int

    @property
    def metres(self) -> float:
        """Length of all pieces, as bought."""
        return sum(length * count for length, count in self.pieces) / 1000


def stock_mm(cut_mm: float) -> int:
    """Return the shortest stock length that a piece can be cut from."""
    return math.ceil(cut_mm / STOCK_MM - 1e-9) * STOCK_MM


def take_off(braces: Iterable[Brace], pegged: Iterable[str]) -> TakeOff:
    """Return the timber for braces; `pegged` are the names of those whose foot is in the ground."""
    every, in_ground = tuple(braces), frozenset(pegged)
    lengths = (brace.timber_mm for brace in every)
    counts = Counter(stock_mm(length) for length in lengths if length is not None)
    pegs = sum(brace.way is not None and brace.name in in_ground for brace in every)
    blocks = sum(brace.way is not None for brace in every) - pegs
    return TakeOff(tuple(sorted(counts.items(), reverse=True)), blocks, pegs)
