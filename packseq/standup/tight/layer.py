"""States one extra lift further on than those of the layer before, each once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from packseq.standup.tight.moves import Columns
from packseq.standup.tight.order import Flags
from packseq.standup.tight.yard import Batch, joined_up

Keys = npt.NDArray[np.uint64]
Counts = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Layer:
    """Settled, tidied states in order of their keys.

    Parameters
    ----------
    batch
        The states.
    keys
        A number worked out from each state; equal states have equal keys.
    parent
        The column of the layer before that each came from.
    need
        A bound on the extra lifts still needed from each.
    """

    batch: Batch
    keys: Keys
    parent: Columns
    need: Counts

    @property
    def count(self) -> int:
        """Number of states."""
        return self.batch.count

    def take(self, columns: Columns) -> Layer:
        """Return the states of some columns, given in rising order."""
        return Layer(self.batch.take(columns), self.keys[columns], self.parent[columns], self.need[columns])

    def without(self, other: Layer) -> Layer:
        """Return the states that another layer does not have."""
        place = np.searchsorted(other.keys, self.keys)
        place[place == other.count] = 0
        maybe = np.flatnonzero(other.keys[place] == self.keys)
        if not maybe.size:
            return self
        known = maybe[_equal(self.batch.take(maybe), other.batch.take(place[maybe]))]
        fresh = np.ones(self.count, bool)
        fresh[known] = False
        return self.take(np.flatnonzero(fresh))


def keys_of(batch: Batch) -> Keys:
    """Return a number for each state, nearly always different for different states."""
    dice = np.random.default_rng(len(batch.heap))
    weights = dice.integers(1 << 63, size=(2, len(batch.heap)), dtype=np.uint64) * np.uint64(2) + np.uint64(1)
    mixed = np.zeros(batch.count, np.uint64)
    for frame in range(len(batch.heap)):
        mixed += batch.heap[frame] * weights[0, frame] + batch.height[frame] * weights[1, frame]
    return mixed ^ (mixed >> np.uint64(31))


def gathered(layers: Sequence[Layer]) -> Layer:
    """Return all states of some layers, at least one, each once, in order of their keys.

    Of equal states the first stays. Different states that have the same key all stay: nothing is lost
    to chance.
    """
    batch = joined_up([layer.batch for layer in layers])
    keys = np.concatenate([layer.keys for layer in layers])
    order = np.argsort(keys, kind="stable")
    twin = np.flatnonzero(keys[order][1:] == keys[order][:-1])
    fresh = np.ones(len(order), bool)
    if twin.size:
        fresh[twin[_equal(batch.take(order[twin]), batch.take(order[twin + 1]))] + 1] = False
    order = order[fresh]
    parent = np.concatenate([layer.parent for layer in layers])
    need = np.concatenate([layer.need for layer in layers])
    return Layer(batch.take(order), keys[order], parent[order], need[order])


def _equal(one: Batch, other: Batch) -> Flags:
    same: Flags = ((one.heap == other.heap) & (one.height == other.height)).all(axis=0)
    return same
