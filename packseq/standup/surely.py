"""Which frame is stood before which by the rules alone, whatever else the plan does."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping
from graphlib import TopologicalSorter
from itertools import pairwise
from typing import TypeVar

from packseq.house.model import House, LevelHouse
from packseq.scenario.model import StandChoices

Pair = tuple[str, str]
Item = TypeVar("Item", bound=Hashable)


def carried_on(arcs: Mapping[Item, Collection[Item]]) -> dict[Item, frozenset[Item]]:
    """Return for each item whatever its arcs lead to, straight or by way of others.

    Raises
    ------
    graphlib.CycleError
        When some item leads back to itself.
    """
    led_to: dict[Item, frozenset[Item]] = {}
    for item in TopologicalSorter(arcs).static_order():
        following = arcs.get(item, ())
        led_to[item] = frozenset(following).union(*(led_to[each] for each in following))
    return {item: led_to[item] for item in arcs}


def sure_before(house: House, direction: str, rules: frozenset[str]) -> Mapping[str, frozenset[str]]:
    """Return for each frame all that `rules` have stand before it, whatever stands by then."""
    before: dict[str, set[str]] = {frame: set() for frame in house.scenario.frames}
    for earlier, later in sure_pairs(house, direction, rules):
        before[later].add(earlier)
    return carried_on(before)


def sure_pairs(house: House, direction: str, rules: frozenset[str]) -> Iterator[Pair]:
    """Yield pairs (earlier, later) of frames that hold in every plan keeping `rules`."""
    choices = house.scenario.stand
    below: tuple[str, ...] = ()
    for level in house.levels:
        if "reference-first" in rules:
            yield from reference_pairs(level, direction)
        if "lap-order" in rules and choices.lap == "one-way":
            yield from pairwise(level.stand_round(direction))
        if "perimeter-first" in rules:
            yield from perimeter_pairs(level, direction, choices, one_way="lap-order" in rules)
        here = (*level.perimeter, *level.internals)
        if "level-order" in rules:
            yield from ((lower, upper) for lower in below for upper in here)
        below = here


def reference_pairs(level: LevelHouse, direction: str) -> Iterator[Pair]:
    """Yield the reference wall's order, and its last frame before everything else of the level."""
    reference = level.stand_round(direction)[: len(level.reference)]
    yield from pairwise(reference)
    rest = (*level.perimeter, *level.internals)
    yield from ((reference[-1], other) for other in rest if other not in reference)


def perimeter_pairs(
    level: LevelHouse, direction: str, choices: StandChoices, *, one_way: bool
) -> Iterator[Pair]:
    """Yield the perimeter frames that cannot be held open before each internal frame."""
    if choices.internals_any_time:
        return
    order = level.stand_round(direction)
    first_to_hold = max(len(level.reference), len(order) - choices.hold_open)
    if not (one_way and choices.lap == "one-way") and choices.hold_open > 0:
        first_to_hold = len(level.reference)
    for frame in order[:first_to_hold]:
        yield from ((frame, internal) for internal in level.internals)
