"""Whether tapes fix every corner, and what to measure where they do not."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from packseq.geometry import Point
from packseq.sitework.slab.model import Tape
from packseq.sitework.slab.unknowns import Array, Network, turn_of

_FLAT = 0.02
"""Least singular value of a network that fixes its corners: below, tapes meet at about 2 degrees or less."""

_STILL = 1e-3
"""A corner moves when some way that is left free moves it by more than this share."""


def loose_corners(
    tapes: Sequence[Tape], corners: Mapping[str, Point], base: tuple[str, str]
) -> tuple[str, ...]:
    """Return the corners that the tapes leave free to move, judged on the slab as drawn."""
    network = Network.of(tuple(corners), tapes, base)
    slopes = _drawn_slopes(network, corners, base)
    _, sizes, ways = np.linalg.svd(slopes, full_matrices=True)
    rank = int(np.sum(sizes > _FLAT))
    moves = np.zeros(2 * len(corners))
    moves[network.free] = np.abs(ways[rank:]).max(axis=0, initial=0.0)
    return tuple(name for at, name in enumerate(corners) if moves[2 * at : 2 * at + 2].max() > _STILL)


def missing_tapes(
    tapes: Sequence[Tape], corners: Mapping[str, Point], base: tuple[str, str]
) -> tuple[tuple[str, str], ...]:
    """Return the fewest further pairs to measure so that every corner is fixed, shortest first.

    Each tape that fixes one thing more is taken; as sets of independent tapes are a matroid, no choice of
    fewer would do.
    """
    wanted: list[tuple[str, str]] = []
    had = list(tapes)
    pairs = sorted(
        (math.dist(corners[first], corners[second]), first, second)
        for place, first in enumerate(corners)
        for second in list(corners)[place + 1 :]
    )
    rank = _rank(had, corners, base)
    for length_mm, first, second in pairs:
        tried = [*had, Tape(0, (first, second), length_mm, 1.0)]
        if (more := _rank(tried, corners, base)) > rank:
            had, rank = tried, more
            wanted.append((first, second))
    return tuple(wanted)


def _rank(tapes: Sequence[Tape], corners: Mapping[str, Point], base: tuple[str, str]) -> int:
    if not tapes:
        return 0
    slopes = _drawn_slopes(Network.of(tuple(corners), tapes, base), corners, base)
    return int(np.sum(np.linalg.svd(slopes, compute_uv=False) > _FLAT))


def _drawn_slopes(network: Network, corners: Mapping[str, Point], base: tuple[str, str]) -> Array:
    places = np.array([corners[name] for name in network.names]) - np.array(corners[base[0]])
    return network.slopes(places @ turn_of(corners, base))


def loose_text(loose: Sequence[str], more: Sequence[tuple[str, str]]) -> str:
    """Return which corners are loose and what to measure as well, in words."""
    wanted = ", ".join(f"{first} to {second}" for first, second in more)
    verb = "is" if len(loose) == 1 else "are"
    return f"{', '.join(loose)} {verb} not fixed by these tapes; measure as well: {wanted}"
