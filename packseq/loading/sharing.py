"""Rows of frames that could share a layer of a pack, for a stand order that is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packseq.loading.job import LoadJob

_MOST_IN_A_ROW = 3
_NEAR = 8
"""Frames share a row only if no more than so many frames that could lie in the pack are stood in between."""


@dataclass(frozen=True, slots=True)
class Row:
    """Frames that share a layer, or one alone, with what the row reaches and what it bears, in mm.

    `frames` are in stand order; each measure is (along the pack, across it).
    """

    frames: tuple[str, ...]
    reach_mm: tuple[int, int]
    bears_mm: tuple[int, int]
    thick_mm: int
    side_by_side: bool = False


def rows_of(job: LoadJob, names: Sequence[str]) -> Iterator[Row]:
    """Yield the rows that a pack of some of these frames may have.

    Only frames that are stood soon after one another share a row, and only a few: so these are not all
    the rows there could be.

    Parameters
    ----------
    job
        The job with its limits.
    names
        Frames of one level in stand order.
    """
    limits = job.limits
    longest = max((job.length_mm[name] for name in names), default=0)
    tallest = max((job.width_mm[name] for name in names), default=0)
    for chosen in _chosen(names):
        ways = (
            (False,)
            if len(chosen) == 1
            else tuple(way for way in (False, True) if (limits.side_by_side if way else limits.end_to_end))
        )
        for side_by_side in ways:
            row = _row(job, chosen, side_by_side=side_by_side)
            if row.reach_mm[0] <= longest and row.reach_mm[1] <= tallest:
                yield row


def _chosen(names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    growing: list[tuple[int, ...]] = [(place,) for place in range(len(names))]
    for _ in range(_MOST_IN_A_ROW):
        yield from (tuple(names[place] for place in places) for places in growing)
        growing = [
            (*places, place)
            for places in growing
            for place in range(places[-1] + 1, min(len(names), places[0] + _NEAR + 1))
        ]


def _row(job: LoadJob, names: tuple[str, ...], *, side_by_side: bool) -> Row:
    lengths = [job.length_mm[name] for name in names]
    widths = [job.width_mm[name] for name in names]
    gaps = -int(-job.limits.layer_gap_mm // 1) * (len(names) - 1)
    thick = max(job.thickness_mm[name] for name in names)
    if side_by_side:
        wide = sum(widths) + gaps
        return Row(names, (max(lengths), wide), (min(lengths), wide), thick, side_by_side=True)
    long = sum(lengths) + gaps
    return Row(names, (long, max(widths)), (long, min(widths)), thick)
