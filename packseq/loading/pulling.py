"""Delivered packs changed one frame at a time, each time where that saves the most, for one stand order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packseq.loading.job import LoadJob
from packseq.loading.stack import How, Laying, Stack
from packseq.plan.load import LaidLayer, LaidPack

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
    puller = _Puller(job, order)
    worth = puller.worth(packs)
    while worth[0] > 0:
        best = min(puller.moved(packs), key=puller.worth, default=packs)
        if puller.worth(best) >= worth:
            return
        packs, worth = best, puller.worth(best)
        yield packs


class _Puller:
    def __init__(self, job: LoadJob, order: Sequence[str]) -> None:
        self._job = job
        self._rank: Mapping[str, int] = {name: place for place, name in enumerate(order)}
        self._laying = Laying(job)

    def worth(self, packs: Packs) -> tuple[int, int]:
        """Return how many frames are set aside, and how many pairs lie the wrong way round."""
        aside = wrong = 0
        for pack in packs:
            beneath: list[int] = []
            for layer in reversed(pack.layers):
                earlier = [sum(rank < self._rank[name] for rank in beneath) for name in layer.frames]
                aside += sum(count > 0 for count in earlier)
                wrong += sum(earlier)
                beneath += [self._rank[name] for name in layer.frames]
        return aside, wrong

    def moved(self, packs: Packs) -> Iterator[Packs]:
        """Yield every way of putting one frame elsewhere that keeps the limits."""
        for source, pack in enumerate(packs):
            for name in pack.frames:
                left = _without(pack, name)
                if left.layers and self._keeps(left):
                    yield from self._put(name, [*packs[:source], left, *packs[source + 1 :]])

    def _put(self, name: str, packs: Sequence[LaidPack]) -> Iterator[Packs]:
        level = self._job.scenario.frames[name].level
        for place, pack in enumerate(packs):
            if self._job.landings[pack.name].level != level:
                continue
            for changed in _with(pack, name, self._laying.ways):
                if self._keeps(changed):
                    yield (*packs[:place], changed, *packs[place + 1 :])

    def _keeps(self, pack: LaidPack) -> bool:
        """Tell whether a pack keeps the limits, as laid from the bottom."""
        most = (
            float(max(self._job.length_mm[name] for name in pack.frames)),
            float(max(self._job.width_mm[name] for name in pack.frames)),
        )
        grams = self._job.most_grams[pack.name]
        stack = Stack()
        for layer in reversed(pack.layers):
            how: How = "new layer"
            for name in layer.frames:
                laid = dict(self._laying.laid(stack, name, grams, most)).get(how)
                if laid is None:
                    return False
                stack = laid
                how = "side by side" if layer.side_by_side else "end to end"
        held = frozenset(pack.frames)
        return all(group <= held or not group & held for group in self._job.together)


def _without(pack: LaidPack, name: str) -> LaidPack:
    layers = [
        LaidLayer(kept, layer.side_by_side and len(kept) > 1)
        for layer in pack.layers
        if (kept := tuple(other for other in layer.frames if other != name))
    ]
    return LaidPack(pack.name, tuple(layers))


def _with(pack: LaidPack, name: str, ways: Sequence[How]) -> Iterator[LaidPack]:
    """Yield a pack with one frame more: in a layer of its own anywhere, or sharing one."""
    layers = pack.layers
    for depth in range(len(layers) + 1):
        yield LaidPack(pack.name, (*layers[:depth], LaidLayer((name,)), *layers[depth:]))
    for depth, layer in enumerate(layers):
        for how in ways:
            beside = how == "side by side"
            if len(layer.frames) == 1 or layer.side_by_side == beside:
                shared = LaidLayer((*layer.frames, name), beside)
                yield LaidPack(pack.name, (*layers[:depth], shared, *layers[depth + 1 :]))
