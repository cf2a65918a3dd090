"""Straight lines between corners and stops, and what each of them crosses.

The lines of a level are laid out once, in one order: pairs of corners, then every stop with every
corner, then every stop with every stop. What a line crosses is a column of bits, one bit for each
set of frames (`Sightlines.keys`) that blocks together; see `pack_standing`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packseq.geometry import Ring
from packseq.routes.corners import corner_pairs
from packseq.routes.crossing import Flags, Floats, Whole, lines_crossing
from packseq.routes.ground import Blocker
from packseq.routes.passing import Passing
from packseq.routes.values import Stop

Bits = NDArray[np.uint8]


@dataclass(frozen=True)
class Crossed:
    """Bits of what each line crosses; the first axis runs over bytes of `Sightlines.keys`."""

    between_corners: Bits
    stop_to_corner: Bits
    stop_to_stop: Bits


@dataclass(frozen=True)
class Sightlines:
    """The lines of one level.

    Attributes
    ----------
    corners
        Points that a route may bend at, shape (corners, 2), mm.
    stops
        Points where legs begin and end.
    first, second
        Ends of each line between two corners, as positions in `corners`, first < second, sorted.
    corner_mm, stop_corner_mm, stop_stop_mm
        Lengths of the lines: between corners, (stops, corners) and (stops, stops).
    keys
        The sets of frames that block together, each sorted; the empty one always blocks.
    crossed
        What the lines cross, for each way of passing openings.
    """

    corners: Floats
    stops: tuple[Stop, ...]
    first: Whole
    second: Whole
    corner_mm: Floats
    stop_corner_mm: Floats
    stop_stop_mm: Floats
    keys: tuple[tuple[str, ...], ...]
    crossed: Mapping[Passing, Crossed]


def pack_standing(keys: Sequence[tuple[str, ...]], standing: frozenset[str]) -> Bits:
    """Return the bits of the keys that block while `standing` stand."""
    return np.packbits(np.array([standing.issuperset(key) for key in keys], dtype=np.bool_))


def draw_sightlines(
    rings: Sequence[Ring], stops: Sequence[Stop], blocking: Mapping[Passing, Sequence[Blocker]]
) -> Sightlines:
    """Lay out the lines of a level and find what each crosses.

    Parameters
    ----------
    rings
        Outlines, anticlockwise, whose convex corners a route may bend at.
    stops
        Where legs may begin and end.
    blocking
        What blocks the level, for each way of passing openings.
    """
    corners, first, second = corner_pairs(rings)
    stop_points = np.array([stop.point for stop in stops], dtype=np.float64).reshape(-1, 2)
    corner_count, stop_count, pair_count = len(corners), len(stops), len(first)
    points = np.concatenate((corners, stop_points))
    every_stop = np.arange(stop_count) + corner_count
    starts = np.concatenate((first, np.repeat(every_stop, corner_count), np.repeat(every_stop, stop_count)))
    ends = np.concatenate(
        (second, np.tile(np.arange(corner_count), stop_count), np.tile(every_stop, stop_count))
    )
    lengths = np.hypot(*(points[ends] - points[starts]).T)
    stop_corner, stop_stop = pair_count, pair_count + stop_count * corner_count

    keys = tuple(sorted({blocker.frames for all_of in blocking.values() for blocker in all_of}))
    bit_of = {key: divmod(bit, 8) for bit, key in enumerate(keys)}
    byte_count = -(-len(keys) // 8)
    bits = {through: np.zeros((byte_count, len(starts)), dtype=np.uint8) for through in blocking}
    users: dict[Blocker, list[Passing]] = {}
    for through, all_of in blocking.items():
        for blocker in all_of:
            users.setdefault(blocker, []).append(through)
    for blocker, throughs in users.items():
        hit = _in_the_way(blocker, blocker.bars(stops), points, starts, ends)
        byte, bit = bit_of[blocker.frames]
        for through in throughs:
            bits[through][byte, hit] |= 1 << (7 - bit)  # as np.packbits lays them

    crossed = {
        through: Crossed(
            between_corners=field[:, :stop_corner],
            stop_to_corner=field[:, stop_corner:stop_stop].reshape(byte_count, stop_count, corner_count),
            stop_to_stop=field[:, stop_stop:].reshape(byte_count, stop_count, stop_count),
        )
        for through, field in bits.items()
    }
    return Sightlines(
        corners=corners,
        stops=tuple(stops),
        first=first,
        second=second,
        corner_mm=lengths[:stop_corner],
        stop_corner_mm=lengths[stop_corner:stop_stop].reshape(stop_count, corner_count),
        stop_stop_mm=lengths[stop_stop:].reshape(stop_count, stop_count),
        keys=keys,
        crossed=crossed,
    )


def _in_the_way(blocker: Blocker, barred: Flags, points: Floats, starts: Whole, ends: Whole) -> Whole:
    """Return the positions of the lines that a blocker stands in the way of; `barred` tells of each stop.

    A line from or to the middle of a frame takes no notice of that frame, nor of a closed gap that
    the frame itself fills, but of the pieces that are there for a team leaving it. Staying put
    crosses nothing.
    """
    corner_count = len(points) - len(barred)
    heeds = np.concatenate((np.full(corner_count, blocker.leaving is None), barred))
    if blocker.leaving is not None:
        own = np.flatnonzero(heeds.take(starts) | heeds.take(ends))
        hit = own[lines_crossing(blocker.shape, points, starts[own], ends[own])]
    else:
        hit = lines_crossing(blocker.shape, points, starts, ends)
        hit = hit[heeds[starts[hit]] & heeds[ends[hit]]]
    walked: Whole = hit[starts[hit] != ends[hit]]
    return walked
