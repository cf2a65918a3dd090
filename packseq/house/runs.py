"""Runs: frames that stand end to end in one straight line."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence
from itertools import pairwise

from packseq.geometry import Point, middle, whole_mm
from packseq.house.links import groups, linked
from packseq.house.shapes import Leg, on_one_line, parallel
from packseq.scenario.model import Frame

Pair = frozenset[str]

_NORTHWARD_TO_DEG = 135.0
"""Internal runs are listed from west to east or from south to north: bearings above -45 up to 135."""


def far_ends(run: Sequence[Leg]) -> tuple[Point, Point]:
    """Return the two ends of a run, in the order in which it is passed."""
    return run[0].start, run[-1].end


def straight(legs: Sequence[Leg]) -> bool:
    """Tell whether frames stand on one line.

    Every end lies within 5 mm of the line from end to end, and no frame turns
    more than 0.1 degree from the one before it (docs/rules.md, reference-first).
    """
    start, end = far_ends(legs)
    ends = [point for leg in legs for point in (leg.start, leg.end)]
    return on_one_line(ends, start, end) and all(
        parallel(leg.frame, after.frame) for leg, after in pairwise(legs)
    )


def split_into_runs(
    legs: Sequence[Leg], inline: Collection[Pair], *, closed: bool
) -> tuple[tuple[Leg, ...], ...]:
    """Split frames, in the order in which they are passed, into straight runs.

    Parameters
    ----------
    legs
        Frames in order, each passed from its start to its end.
    inline
        Pairs of frames joined end to end; a frame across a declared gap is not.
    closed
        True when the last frame leads back to the first, whose run may then begin before it.

    Returns
    -------
    The runs in order. The first is the one that holds the first leg.
    """
    first = 0
    if closed:
        follows = [_one_run(pair, inline) for pair in pairwise([legs[-1], *legs])]
        first = max((number for number, joined in enumerate(follows) if not joined), default=0)
    runs: list[tuple[Leg, ...]] = []
    for leg in [*legs[first:], *legs[:first]]:
        if runs and _one_run((*runs[-1], leg), inline):
            runs[-1] = (*runs[-1], leg)
        else:
            runs.append((leg,))
    holds_first = next(number for number, run in enumerate(runs) if legs[0] in run)
    return tuple(runs[holds_first:] + runs[:holds_first])


def internal_runs(frames: Iterable[Frame], inline: Collection[Pair]) -> tuple[tuple[Leg, ...], ...]:
    """Return the runs of the internal frames, from south to north and then from west to east.

    Each run is passed from west to east, or from south to north when it lies nearer to that.
    """
    legs = {frame.name: _eastward(frame) for frame in frames}
    pairs: list[tuple[str, str]] = []
    for first, second in sorted(tuple(sorted(pair)) for pair in inline):
        if first in legs and second in legs:
            pair = sorted((legs[first], legs[second]), key=_distance_along(legs[first]))
            if straight(pair):
                pairs.append((first, second))
    runs: list[tuple[Leg, ...]] = []
    for names in groups(linked(legs, pairs)):
        members = [legs[name] for name in names]
        members.sort(key=_distance_along(members[0]))
        runs.extend(split_into_runs(members, inline, closed=False))
    return tuple(sorted(runs, key=_southmost_first))


def _one_run(legs: Sequence[Leg], inline: Collection[Pair]) -> bool:
    """Tell whether the last of the legs carries on the run of the others."""
    return frozenset((legs[-2].frame.name, legs[-1].frame.name)) in inline and straight(legs)


def _eastward(frame: Frame) -> Leg:
    """Return an internal frame passed eastward, or northward when it lies nearer to that."""
    leg = Leg(frame, frame.start, frame.end)
    bearing = round(frame.bearing_deg, 2) % 360.0
    return leg if bearing <= _NORTHWARD_TO_DEG or bearing > _NORTHWARD_TO_DEG + 180.0 else leg.turned


def _distance_along(first: Leg) -> Callable[[Leg], float]:
    """Return a sort key: how far along the line of `first` another leg's middle lies."""
    (x1, y1), (x2, y2) = first.start, first.end
    return lambda leg: leg.frame.middle[0] * (x2 - x1) + leg.frame.middle[1] * (y2 - y1)


def _southmost_first(run: Sequence[Leg]) -> tuple[int, int, str]:
    """Sort key: the run's middle from south to north, then from west to east, then its first name."""
    x, y = middle(*far_ends(run))
    return whole_mm(y), whole_mm(x), run[0].frame.name
