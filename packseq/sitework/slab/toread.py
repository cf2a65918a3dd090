"""What to measure on a slab: which distances, and where to take levels."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from shapely import LineString, Polygon

from packseq.geometry import Ring, whole_mm
from packseq.house.model import House
from packseq.sitework.slab.enough import missing_tapes
from packseq.sitework.slab.model import Tape
from packseq.sitework.slabedges import corners_at, slab_edges

STATION_MM = 2500.0
"""Most between two stations along a plate: 2 to 3 m, common practice, no source."""

_MOST_PAIRS = 30
"""Pairs to measure on a slab of up to 10 corners; on one with more, three for each corner."""


def pairs_to_measure(slab: Ring, base: tuple[str, str]) -> tuple[tuple[str, str], ...]:
    """Return the pairs of corners to measure: every side, then diagonals that lie on the slab.

    The longest diagonals come first and the shortest are left out where there are too many; whatever is
    needed to fix every corner is added, on the slab or not.
    """
    at = corners_at(slab)
    sides = {frozenset(edge.corners) for edge in slab_edges(slab)}
    floor = Polygon(slab).buffer(1.0)
    every = list(combinations(at, 2))
    chosen = [pair for pair in every if frozenset(pair) in sides]
    diagonals = [
        pair
        for pair in every
        if frozenset(pair) not in sides and floor.covers(LineString([at[name] for name in pair]))
    ]
    diagonals.sort(key=lambda pair: -math.dist(at[pair[0]], at[pair[1]]))
    room = max(_MOST_PAIRS, 3 * len(at)) - len(chosen)
    chosen += diagonals[:room]
    tapes = [Tape(0, pair, math.dist(at[pair[0]], at[pair[1]]), 1.0) for pair in chosen]
    return (*chosen, *missing_tapes(tapes, at, base))


def stations(house: House, level: int) -> Iterator[tuple[str, int]]:
    """Yield where to take levels: both ends of each frame of a level, and evenly in between."""
    for frame in house.scenario.frames.values():
        if frame.level == level:
            parts = max(1, math.ceil(frame.length_mm / STATION_MM))
            for part in range(parts + 1):
                yield frame.name, whole_mm(frame.length_mm * part / parts)
