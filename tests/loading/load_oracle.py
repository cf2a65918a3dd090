"""Every load and every stand order of a small house, all tried; no rule shared with what it judges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, permutations, product

from load_houses import SIX, SIX_LINES

Layers = tuple[tuple[str, ...], ...]
Packing = tuple[Layers, ...]

LENGTH = {
    name: round(abs(line[0][0] - line[1][0]) + abs(line[0][1] - line[1][1]))
    for name, line in SIX_LINES.items()
}
RING = SIX


@dataclass(frozen=True)
class Limits:
    """What a pack may be, in plain numbers; all frames weigh `kg` and rows lie end to end."""

    kg: int
    most_kg: int
    most_layers: int
    overhang_mm: int
    share: bool


@lru_cache
def stackings(names: tuple[str, ...]) -> tuple[Layers, ...]:
    """Return every way of laying frames in layers, top first; how a layer is ordered makes no difference."""
    if not names:
        return ((),)
    made: list[Layers] = []
    for size in range(1, len(names) + 1):
        for top in combinations(names, size):
            rest = tuple(name for name in names if name not in top)
            made += [(top, *below) for below in stackings(rest)]
    return tuple(made)


def keeps(layers: Layers, limits: Limits) -> bool:
    """Tell whether one pack keeps the limits; frames of equal mass per pack pull it nowhere that matters."""
    names = [name for layer in layers for name in layer]
    if limits.kg * len(names) > limits.most_kg or len(layers) > limits.most_layers:
        return False
    if not limits.share and any(len(layer) > 1 for layer in layers):
        return False
    rows = [sum(LENGTH[name] for name in layer) for layer in layers]
    if rows and max(rows) > max(LENGTH[name] for name in names):
        return False
    pairs = combinations(rows, 2)
    return all(upper - lower <= 2 * limits.overhang_mm for upper, lower in pairs)


def packings(limits: Limits, packs: int) -> Iterator[Packing]:
    """Yield every load that keeps the limits in at most so many packs."""
    for homes in product(range(packs), repeat=len(SIX)):
        if any(homes[place] > max(homes[:place], default=-1) + 1 for place in range(len(homes))):
            continue  # the same packs under other names
        groups = [
            tuple(name for name, home in zip(SIX, homes, strict=True) if home == pack)
            for pack in range(packs)
        ]
        kept = [[layers for layers in stackings(group) if keeps(layers, limits)] for group in groups if group]
        yield from product(*kept)


def stand_orders(lap: str) -> tuple[tuple[str, ...], ...]:
    """Return every order of standing the ring with S1 and S2 first, or S2 and S1."""
    if lap == "one-way":
        return (RING, (*RING[1::-1], *RING[:1:-1]))
    orders = []
    for order in permutations(RING):
        if set(order[:2]) != {"S1", "S2"}:
            continue
        standing = [RING.index(order[0])]
        for name in order[1:]:
            place = RING.index(name)
            if not {(place - 1) % 6, (place + 1) % 6} & set(standing):
                break
            standing.append(place)
        else:
            orders.append(order)
    return tuple(orders)


def lifted_twice(packing: Packing, order: Sequence[str]) -> int:
    """Return how many frames stand after some frame beneath them."""
    rank = {name: place for place, name in enumerate(order)}
    count = 0
    for layers in packing:
        for depth, layer in enumerate(layers):
            below = [rank[name] for under in layers[depth + 1 :] for name in under]
            count += sum(any(lower < rank[name] for lower in below) for name in layer)
    return count


def best(limits: Limits, packs: int, lap: str) -> tuple[int, int] | None:
    """Return the fewest extra lifts and with them the fewest packs; None where no load keeps the limits."""
    orders = stand_orders(lap)
    worth = (
        (min(lifted_twice(packing, order) for order in orders), sum(bool(layers) for layers in packing))
        for packing in packings(limits, packs)
    )
    return min(worth, default=None)
