"""Corners as unknowns, and how tapes depend on them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packseq.geometry import Point
from packseq.sitework.slab.model import Tape

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Network:
    """Corners as unknowns on axes along the base and square to it; `free` are the ones not held.

    The first corner of the base is held, and the second is held on the line of the base.
    """

    names: tuple[str, ...]
    tapes: tuple[Tape, ...]
    free: NDArray[np.intp]

    @classmethod
    def of(cls, names: Sequence[str], tapes: Sequence[Tape], base: tuple[str, str]) -> Network:
        """Return the network of these tapes, with the base held."""
        first, second = (names.index(name) for name in base)
        held = {2 * first, 2 * first + 1, 2 * second + 1}
        free = np.array([place for place in range(2 * len(names)) if place not in held], dtype=np.intp)
        return cls(tuple(names), tuple(tapes), free)

    def lengths(self, places: Array) -> Array:
        """Return how long each tape should be."""
        first, second = self._ends(places)
        lengths: Array = np.linalg.norm(second - first, axis=1)
        return lengths

    def slopes(self, places: Array) -> Array:
        """Return by how much each tape changes with each free unknown."""
        first, second = self._ends(places)
        units = (second - first) / self.lengths(places)[:, None]
        full = np.zeros((len(self.tapes), 2 * len(self.names)))
        for row, tape in enumerate(self.tapes):
            start, end = (self.names.index(name) for name in tape.corners)
            full[row, 2 * start : 2 * start + 2] -= units[row]
            full[row, 2 * end : 2 * end + 2] += units[row]
        return full[:, self.free]

    def _ends(self, places: Array) -> tuple[Array, Array]:
        starts, ends = ([self.names.index(tape.corners[side]) for tape in self.tapes] for side in (0, 1))
        return places[starts], places[ends]


def turn_of(corners: Mapping[str, Point], base: tuple[str, str]) -> Array:
    """Return the matrix whose columns are the unit vectors along the base and left of it."""
    (x1, y1), (x2, y2) = corners[base[0]], corners[base[1]]
    length = math.dist((x1, y1), (x2, y2))
    along = ((x2 - x1) / length, (y2 - y1) / length)
    return np.array([[along[0], -along[1]], [along[1], along[0]]])
