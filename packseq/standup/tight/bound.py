"""How many extra lifts a state still needs at least, whatever is done.

Call a frame bad while it lies above one that is surely stood before it, else good. A set-aside changes
that of no frame but the one lifted, a stand changes it of none. So in every plan from a state, with `GB`
set-asides of a good frame to where it is bad, and so on for `BG`, `BB` and `GG`::

    BG = bad frames now + GB          (in the end no frame is bad)
    extra lifts = BG + BB + GB + GG = bad frames now + (BB + GG + 2 GB)

`in_the_way` counts the bad frames. What is in brackets is bounded by `Bound`.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from packseq.standup.tight.order import Flags
from packseq.standup.tight.yard import Batch, Yard

Counts = npt.NDArray[np.intp]
Bits = npt.NDArray[np.uint64]

_WORD = 64
_NO_BITS = np.uint64(0)
_MOST_PAYING = 3


def in_the_way(yard: Yard, batch: Batch) -> Counts:
    """Return how many frames lie above one that is surely stood before them.

    Each of them must be set aside at least once: it cannot be stood while the other lies beneath it, and
    the other cannot be lifted.
    """
    count: Counts = np.count_nonzero(batch.under != yard.nothing, axis=0)
    return count


class Bound:
    """Bounds the lifts beyond one for each frame that is in the way, with the tables that this needs.

    1. `_dug_out`. In a settled state nothing on top may be stood. Whichever frame is stood next, it may be
       stood now already (only set-asides come before it), and every frame above it must be set aside
       first. The good ones among them each make a `GG` or `GB`. So the fewest good frames above
       one that may be stood now are a bound.

    2. `_again`. Let R be bad, T a frame beneath it with T surely before R. R's first set-aside comes
       while T still lies there. Let Q be a good frame of another pack or pile H with T surely before Q,
       and Q surely before R. Unless Q is set aside, it lies in H until it is stood, so after T,
       so it lies there when R is first set aside: R would be bad on H. Say that a frame pays when
       its first set-aside is not `BG`: each frame that pays adds at least 1 to the bracket. For every bad R,
       either R itself pays, or on some other heap that takes R all those Q pay (on a lean there are
       none). The bound is the fewest frames that can pay so that this is true of every R:

       - with no Q paying, every R that has such a Q on each heap pays;
       - with one Q paying, only those R are let off that have just one Q on the heap of that Q;
       - with two, only those that have at most two on one heap, or just one on one of two heaps;
       - else at least three pay.
    """

    def __init__(self, yard: Yard) -> None:
        self._yard = yard
        self._between = _between(yard)
        # If the order of standing is settled, all frames above the next one are bad.
        count = len(yard.frames)
        self._in_doubt = int(yard.before.sum()) < count * (count - 1) // 2

    def beyond(self, batch: Batch) -> Counts:
        """Return a bound on the lifts beyond one for each frame in the way, for settled states."""
        again = self._again(batch)
        return np.maximum(again, self._dug_out(batch)) if self._in_doubt else again

    def _dug_out(self, batch: Batch) -> Counts:
        yard = self._yard
        good = batch.under == yard.nothing
        allowed = yard.order.allowed(batch.standing)
        least = np.full(batch.count, len(yard.frames))
        for frame in range(len(yard.frames)):
            columns = np.flatnonzero(allowed[frame])
            if columns.size:
                above = batch.heap[:, columns] == batch.heap[frame, columns]
                above &= batch.height[:, columns] > batch.height[frame, columns]
                above &= good[:, columns]
                least[columns] = np.minimum(least[columns], np.count_nonzero(above, axis=0))
        least[~allowed.any(axis=0)] = 0
        return least

    def _again(self, batch: Batch) -> Counts:
        yard = self._yard
        good = self._good(batch)
        pays = np.zeros(batch.count, np.intp)
        let_off = np.zeros((2, len(yard.heaps), batch.count), np.intp)
        for frame in range(len(yard.frames)):
            columns = np.flatnonzero(batch.under[frame] != yard.nothing)
            if not columns.size:
                continue
            between = [table[batch.under[frame, columns], frame] for table in self._between]
            other = {
                heap: ([held[heap, columns] & mask for held, mask in zip(good, between, strict=True)], there)
                for heap in np.flatnonzero(yard.takes[:, frame])
                if (there := batch.heap[frame, columns] != heap).any()
            }
            freely = np.zeros(columns.size, bool)
            for queue, there in other.values():
                freely |= there & _at_most(queue, 0)
            stuck = np.flatnonzero(~freely)
            if not stuck.size:
                continue
            pays[columns[stuck]] += 1
            for heap, (queue, there) in other.items():
                left = [word[stuck] for word in queue]
                for most in (1, 2):
                    let_off[most - 1, heap, columns[stuck]] += there[stuck] & _at_most(left, most)
        by_one = np.sort(let_off[0], axis=0)
        one = pays - by_one[-1]
        two = pays - np.maximum(let_off[1].max(axis=0), by_one[-2:].sum(axis=0))
        fewest: Counts = np.minimum(2 + np.maximum(two, 0), np.minimum(1 + np.maximum(one, 0), pays))
        fewest[fewest > _MOST_PAYING] = _MOST_PAYING
        return fewest

    def _good(self, batch: Batch) -> list[Bits]:
        """Return the good frames of each heap (rows) as bits, one array for each word; on a lean none."""
        yard = self._yard
        found = [np.zeros((len(yard.heaps), batch.count), np.uint64) for _ in self._between]
        for frame in range(len(yard.frames)):
            bit = np.where(batch.under[frame] == yard.nothing, np.uint64(1 << frame % _WORD), _NO_BITS)
            for heap in np.flatnonzero(~yard.lean):
                found[frame // _WORD][heap] |= np.where(batch.heap[frame] == heap, bit, _NO_BITS)
        return found


def _between(yard: Yard) -> list[Bits]:
    """Return the frames, as bits, surely stood after that of the row and before that of the column.

    One array for each word of bits. The last row is for no frame.
    """
    before, count = yard.before, len(yard.frames)
    tables = [np.zeros((count + 1, count), np.uint64) for _ in range(0, count, _WORD)]
    for frame in range(count):
        both = np.outer(before[:, frame], before[frame])
        tables[frame // _WORD][:count] |= np.where(both, np.uint64(1 << frame % _WORD), _NO_BITS)
    return tables


def _at_most(words: list[Bits], most: int) -> Flags:
    """Tell where no more than so many bits, 0 to 2, are set."""
    left = list(words)
    for _ in range(most):
        searching = np.ones(len(left[0]), bool)
        for place, word in enumerate(left):
            # Clears the lowest bit of the first word that has one.
            left[place] = np.where(searching & (word != 0), word & (word - np.uint64(word != 0)), word)
            searching &= word == 0
    none: Flags = left[0] == 0
    for word in left[1:]:
        none &= word == 0
    return none
