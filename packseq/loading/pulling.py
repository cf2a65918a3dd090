"""Delivered packs changed one frame at a time, each time where that saves the most, for one stand order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packseq.loading.fits import fits, put_in, without
from packseq.loading.job import LoadJob
from packseq.plan.load import LaidPack

Packs = tuple[LaidPack, ...]
Worth = tuple[int, int]


def pulled_one_by_one(job: LoadJob, packs: Packs, order: Sequence[str]) -> Iterator[Packs]:
    """Yield packs with one frame more put elsewhere each time, for as long as that helps.

    It helps when fewer frames have to be set aside in this stand order, or as many but fewer pairs of
    frames lie the wrong way round. Every set of packs keeps the limits.

    Parameters
    ----------
    job
        The job with its limits.
    packs
        The packs to begin with.
    order
        The stand order, which stays.
    """
    rank = {name: place for place, name in enumerate(order)}
    worth = _total(packs, rank)
    while worth[0] > 0:
        best = _best_moved(job, packs, rank, worth)
        if best is None:
            return
        packs, worth = best, _total(best, rank)
        yield packs


def _total(packs: Sequence[LaidPack], rank: Mapping[str, int]) -> Worth:
    each = [_worth(pack, rank) for pack in packs]
    return sum(aside for aside, _ in each), sum(wrong for _, wrong in each)


def _worth(pack: LaidPack, rank: Mapping[str, int]) -> Worth:
    """Return how many frames are set aside, and how many pairs lie the wrong way round."""
    aside = wrong = 0
    beneath: list[int] = []
    for layer in reversed(pack.layers):
        for name in layer.frames:
            earlier = sum(lower < rank[name] for lower in beneath)
            aside += earlier > 0
            wrong += earlier
        beneath += [rank[name] for name in layer.frames]
    return aside, wrong


def _best_moved(job: LoadJob, packs: Packs, rank: Mapping[str, int], worth: Worth) -> Packs | None:
    """Return the best way of putting one frame elsewhere within the limits; None where none is better."""
    best: Packs | None = None
    for source, pack in enumerate(packs):
        for name in pack.frames:
            left = without(pack, name)
            if not left.layers or not fits(job, left):
                continue
            there = [*packs[:source], left, *packs[source + 1 :]]
            each = [_worth(other, rank) for other in there]
            for place, other in enumerate(there):
                if job.landings[other.name].level != job.scenario.frames[name].level:
                    continue
                rest = [one for number, one in enumerate(each) if number != place]
                for changed in put_in(other, name):
                    aside, wrong = _worth(changed, rank)
                    then = (aside + sum(a for a, _ in rest), wrong + sum(w for _, w in rest))
                    # Fewer pays first: most ways are worse, and whether they fit need not be asked.
                    if then < worth and fits(job, changed):
                        best, worth = (*there[:place], changed, *there[place + 1 :]), then
    return best
