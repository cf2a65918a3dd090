"""What cannot be right about a tape, before anything is adjusted."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations, permutations
from statistics import fmean
from typing import NamedTuple

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.sitework.slab.model import Tape
from packseq.sitework.units import suspected_unit

_FAR_SHARE, _FAR_MM = 0.10, 250.0
"""A tape that differs from the drawing by more than both is taken for a slip: from no standard."""

_SURE = 5.0
"""Standard deviations by which sides must fail to close before it is called a slip."""

_RIGHT_DEG = 89.0


class _Mean(NamedTuple):
    """What the tapes between two corners say on average, and how good each is."""

    mm: float
    sd_mm: float
    rows: str
    row: int


def doubts(file: str, tapes: Sequence[Tape], corners: Mapping[str, Point]) -> Iterator[Fault]:
    """Yield a fault for each tape in another unit or far off, and for tapes that exclude one another."""
    sound = []
    for tape in tapes:
        wrong = _far_off(tape, corners)
        if wrong is None:
            sound.append(tape)
        else:
            yield Fault(file, wrong, row=tape.row, column="measured_mm")
    means = _means(sound)
    yield from _triangles(file, means, corners)
    yield from _ring(file, means, list(corners))


def _far_off(tape: Tape, corners: Mapping[str, Point]) -> str | None:
    first, second = tape.corners
    drawn_mm = math.dist(corners[first], corners[second])
    if abs(tape.measured_mm - drawn_mm) <= max(_FAR_SHARE * drawn_mm, _FAR_MM):
        return None
    unit = suspected_unit(tape.measured_mm, drawn_mm)
    hint = f"is it in {unit}?" if unit else "is it the right pair of corners, and was the tape read right?"
    return f"{tape.measured_mm:.10g} mm from {first} to {second}, drawn {drawn_mm:.0f} mm: {hint}"


def _means(tapes: Iterable[Tape]) -> Mapping[frozenset[str], _Mean]:
    grouped: defaultdict[frozenset[str], list[Tape]] = defaultdict(list)
    for tape in tapes:
        grouped[frozenset(tape.corners)].append(tape)
    return {
        pair: _Mean(
            fmean(tape.measured_mm for tape in group),
            max(tape.sd_mm for tape in group),
            ", ".join(f"row {tape.row}" for tape in group),
            group[0].row,
        )
        for pair, group in grouped.items()
    }


def _triangles(
    file: str, means: Mapping[frozenset[str], _Mean], corners: Mapping[str, Point]
) -> Iterator[Fault]:
    """Yield the three corners whose tapes cannot close, or whose long side is shorter than a short one."""
    for three in combinations(corners, 3):
        sides = [means.get(frozenset(pair)) for pair in combinations(three, 2)]
        if None in sides:
            continue
        for first, turn, last in permutations(three):
            if first > last:
                continue
            across = means[frozenset((first, last))]
            legs = [means[frozenset((first, turn))], means[frozenset((turn, last))]]
            slack = _SURE * math.hypot(across.sd_mm, *(leg.sd_mm for leg in legs))
            if across.mm > sum(leg.mm for leg in legs) + slack:
                text = (
                    f"{first} to {last} is {across.mm:.0f} mm, more than {first} to {turn} and {turn} to "
                    f"{last} together ({legs[0].rows}, {legs[1].rows}): one of the three is wrong"
                )
                yield Fault(file, text, row=across.row, column="measured_mm")
            if _angle_deg(corners[first], corners[turn], corners[last]) >= _RIGHT_DEG:
                for leg, ends in zip(legs, ((first, turn), (turn, last)), strict=True):
                    if across.mm <= leg.mm:
                        text = (
                            f"the diagonal {first} to {last}, {across.mm:.0f} mm, is no longer than the side "
                            f"{ends[0]} to {ends[1]}, {leg.mm:.0f} mm ({leg.rows})"
                        )
                        yield Fault(file, text, row=across.row, column="measured_mm")


def _ring(file: str, means: Mapping[frozenset[str], _Mean], names: Sequence[str]) -> Iterator[Fault]:
    """Yield a fault when the sides round the slab cannot close: one is longer than all others together."""
    sides = [means.get(frozenset(pair)) for pair in zip(names, [*names[1:], names[0]], strict=True)]
    known = [side for side in sides if side is not None]
    if len(known) < len(sides):
        return
    longest = max(known, key=lambda side: side.mm)
    others = sum(side.mm for side in known) - longest.mm
    if len(known) > 3 and longest.mm > others + _SURE * longest.sd_mm:  # noqa: PLR2004 - three are a triangle
        text = f"the sides cannot close: this one is longer than all others together, {others:.0f} mm"
        yield Fault(file, text, row=longest.row, column="measured_mm")


def _angle_deg(first: Point, turn: Point, last: Point) -> float:
    (ax, ay), (bx, by) = (first[0] - turn[0], first[1] - turn[1]), (last[0] - turn[0], last[1] - turn[1])
    return math.degrees(abs(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))
