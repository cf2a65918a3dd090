"""Sets of frames as rows of bits, many sets at a time."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

Bits = NDArray[np.uint64]
"""Shape (sets, words): each row is a set of frames, 64 to the word."""
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

_WORD = 64


class Numbered:
    """The frames of a house by number, and sets of them as bits."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = tuple(names)
        self.number = {name: number for number, name in enumerate(self.names)}
        self.words = max(1, -(-len(self.names) // _WORD))
        self.all = self.mask(self.names)

    def __len__(self) -> int:
        return len(self.names)

    def mask(self, names: Iterable[str]) -> Bits:
        """Return one set, shape (words,)."""
        row = np.zeros(self.words, dtype=np.uint64)
        for name in names:
            word, bit = divmod(self.number[name], _WORD)
            row[word] |= np.uint64(1 << bit)
        return row

    def names_in(self, row: Bits) -> frozenset[str]:
        """Return the names in one set, shape (words,)."""
        whole = int.from_bytes(row.astype("<u8").tobytes(), "little")
        return frozenset(name for number, name in enumerate(self.names) if whole >> number & 1)


# Word by word: there are one or two to a row, and numpy is slow to gather up so short an axis.


def has_all(rows: Bits, mask: Bits) -> Flags:
    """Tell which sets hold all of a set."""
    held: Flags = (rows[:, 0] & mask[0]) == mask[0]
    for word in range(1, rows.shape[1]):
        held &= (rows[:, word] & mask[word]) == mask[word]
    return held


def has_all_of_any(rows: Bits, masks: Bits) -> Flags:
    """Tell which sets hold all of at least one of the sets in `masks`, shape (masks, words)."""
    if not len(masks):
        return np.zeros(len(rows), dtype=np.bool_)
    held = (rows[:, :1] & masks[:, 0]) == masks[:, 0]
    for word in range(1, rows.shape[1]):
        held &= (rows[:, word : word + 1] & masks[:, word]) == masks[:, word]
    some: Flags = held.any(axis=1)
    return some


def has_any(rows: Bits, mask: Bits) -> Flags:
    """Tell which sets hold something of a set."""
    held: Flags = (rows[:, 0] & mask[0]) != 0
    for word in range(1, rows.shape[1]):
        held |= (rows[:, word] & mask[word]) != 0
    return held


def missing(rows: Bits, mask: Bits) -> Whole:
    """Return how many of a set each set lacks."""
    return sizes(mask & ~rows)


def sizes(rows: Bits) -> Whole:
    """Return how many frames each set has."""
    counts = np.bitwise_count(rows[:, 0]).astype(np.int64)
    for word in range(1, rows.shape[1]):
        counts += np.bitwise_count(rows[:, word])
    return counts
