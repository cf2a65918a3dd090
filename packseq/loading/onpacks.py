"""Moves of a site without spots, where what is set aside goes on top of another pack."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.plan.build import Step
from packseq.scenario.model import Scenario

Layers = tuple[tuple[str, ...], ...]

_MOST_TRIED = 500
"""States looked at for one number of extra lifts."""
_MOST_MORE = 2
"""Extra lifts that are tried beyond those of the frames that must wait in any case."""


def steps_on_packs(order: Sequence[str], scenario: Scenario) -> Iterator[tuple[Step, ...]]:
    """Yield moves that stand the packs of a scenario in an order, those with the fewest extra lifts first.

    A frame is set aside only to free the one that is stood next, if need be again and again. The ways and
    the ground are not asked. Of very many choices not all are tried.
    """
    rank = {name: place for place, name in enumerate(order)}
    heaps = {pack.name: tuple(map(tuple, pack.layers)) for pack in scenario.packs.values()}
    least = _must_wait(heaps, rank)
    for lifts in range(least, least + _MOST_MORE + 1):
        yield from _Trying(scenario, rank, tuple(order)).steps(heaps, lifts)


@dataclass
class _Trying:
    """Tries where each frame set aside may go; counts how much was tried."""

    scenario: Scenario
    rank: Mapping[str, int]
    order: tuple[str, ...]
    tried: int = 0

    def steps(self, heaps: Mapping[str, Layers], lifts: int, stood: int = 0) -> Iterator[tuple[Step, ...]]:
        """Yield the moves from here with just so many more frames set aside."""
        self.tried += 1
        if self.tried > _MOST_TRIED or _must_wait(heaps, self.rank) > lifts:
            return
        if stood == len(self.order):
            if lifts == 0:
                yield ()
            return
        name = self.order[stood]
        pack = next(each for each, layers in heaps.items() if any(name in layer for layer in layers))
        top = heaps[pack][0]
        if name in top:
            move = Step("stand", name)
            ways = [(move, _without(heaps, pack, name), lifts, stood + 1)]
        else:
            ways = [
                (Step("set aside", top[0], to_pack=target), self._put(heaps, pack, target), lifts - 1, stood)
                for target in heaps
                if lifts > 0 and self._takes(target, pack, heaps)
            ]
        for move, then, left, standing in ways:
            for rest in self.steps(then, left, standing):
                yield (move, *rest)

    def _takes(self, target: str, pack: str, heaps: Mapping[str, Layers]) -> bool:
        packs = self.scenario.packs
        return (
            target != pack
            and packs[target].level == packs[pack].level
            and packs[target].holds > 0
            and len(heaps[target]) <= packs[target].holds
        )

    def _put(self, heaps: Mapping[str, Layers], pack: str, target: str) -> dict[str, Layers]:
        name = heaps[pack][0][0]
        return {**_without(heaps, pack, name), target: ((name,), *heaps[target])}


def _without(heaps: Mapping[str, Layers], pack: str, name: str) -> dict[str, Layers]:
    top = tuple(other for other in heaps[pack][0] if other != name)
    return {**heaps, pack: (top, *heaps[pack][1:]) if top else heaps[pack][1:]}


def _must_wait(heaps: Mapping[str, Layers], rank: Mapping[str, int]) -> int:
    """Return how many frames lie on one that is stood before them."""
    count = 0
    for layers in heaps.values():
        first = len(rank)
        for layer in reversed(layers):
            count += sum(rank[name] > first for name in layer)
            first = min(first, *(rank[name] for name in layer))
    return count
