"""Delivered packs changed one frame at a time, each time where that saves the most, for one stand order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packseq.loading.fits import fits, put_in, without
from packseq.loading.job import LoadJob
from packseq.plan.load import LaidPack

Packs = tuple[LaidPack, ...]


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
    worth = _worth(packs, rank)
    while worth[0] > 0:
        best = min(_moved(job, packs), key=lambda each: _worth(each, rank), default=packs)
        if _worth(best, rank) >= worth:
            return
        packs, worth = best, _worth(best, rank)
        yield packs


def _worth(packs: Packs, rank: Mapping[str, int]) -> tuple[int, int]:
    """Return how many frames are set aside, and how many pairs lie the wrong way round."""
    aside = wrong = 0
    for pack in packs:
        beneath: list[int] = []
        for layer in reversed(pack.layers):
            earlier = [sum(lower < rank[name] for lower in beneath) for name in layer.frames]
            aside += sum(count > 0 for count in earlier)
            wrong += sum(earlier)
            beneath += [rank[name] for name in layer.frames]
    return aside, wrong


def _moved(job: LoadJob, packs: Packs) -> Iterator[Packs]:
    """Yield every way of putting one frame elsewhere that keeps the limits."""
    for source, pack in enumerate(packs):
        for name in pack.frames:
            left = without(pack, name)
            if left.layers and fits(job, left):
                yield from _put(job, name, [*packs[:source], left, *packs[source + 1 :]])


def _put(job: LoadJob, name: str, packs: Sequence[LaidPack]) -> Iterator[Packs]:
    level = job.scenario.frames[name].level
    for place, pack in enumerate(packs):
        if job.landings[pack.name].level == level:
            for changed in put_in(pack, name):
                if fits(job, changed):
                    yield (*packs[:place], changed, *packs[place + 1 :])
