"""The ways in which the packs may land, where the scenario lets the plan choose."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from packseq.geometry import overlap
from packseq.scenario.model import Pack, Place, Scenario

MOST_LANDINGS = 12
"""Most landings that are searched: each is a search of its own."""
_MOST_TRIED = 5_000
"""Most ways of placing packs that are looked at to find landings clear of one another."""

Landed = Mapping[str, Place]
Choice = tuple[int, ...]
"""For each pack which of its places, by number from 0."""


@dataclass(frozen=True, slots=True)
class Landings:
    """The landings that are searched, the first place of each pack first if that is clear.

    `left_out` tells that there are, or may be, others: then nothing is proven of every landing.
    """

    searched: tuple[Landed, ...]
    left_out: bool


def landings(scenario: Scenario) -> Landings:
    """Return places for the packs, in which no two packs overlap and none lies on a no-go area.

    Where there are many, those are taken from whose places the frames are carried least, straight to
    their lines. If there are none, the first place of each pack is taken all the same.
    """
    packs = tuple(scenario.packs.values())
    carried = {pack.name: [_carried_mm(scenario, pack, place) for place in pack.places] for pack in packs}
    clear, left_out = _clear(scenario, packs)
    if not clear:
        return Landings(({pack.name: pack.places[0] for pack in packs},), left_out)

    def worth(choice: Choice) -> tuple[bool, int]:
        far = sum(carried[pack.name][place] for pack, place in zip(packs, choice, strict=True))
        return any(choice), round(far)

    if len(clear) > MOST_LANDINGS:
        clear.sort(key=worth)
        left_out = True
    searched = [
        {pack.name: pack.places[place] for pack, place in zip(packs, choice, strict=True)}
        for choice in clear[:MOST_LANDINGS]
    ]
    return Landings(tuple(searched), left_out)


def _clear(scenario: Scenario, packs: Sequence[Pack]) -> tuple[list[Choice], bool]:
    """Return the choices of places that are clear, and whether some were not looked at."""
    grounds = [[pack.footprint(place) for place in pack.places] for pack in packs]
    barred = [
        [any(overlap(ground, area) for area in scenario.no_go) for ground in given] for given in grounds
    ]

    @cache
    def meet(one: int, place: int, other: int, there: int) -> bool:
        return packs[one].level == packs[other].level and overlap(grounds[one][place], grounds[other][there])

    clear: list[Choice] = []
    pending: list[Choice] = [()]
    for _ in range(_MOST_TRIED):
        if not pending:
            return clear, False
        choice = pending.pop()
        number = len(choice)
        if number == len(packs):
            clear.append(choice)
            continue
        pending += [
            (*choice, place)
            for place in reversed(range(len(grounds[number])))
            if not barred[number][place]
            and not any(meet(number, place, other, there) for other, there in enumerate(choice))
        ]
    return clear, bool(pending)


def _carried_mm(scenario: Scenario, pack: Pack, place: Place) -> float:
    return sum(math.dist(place.at, scenario.frames[name].middle) for name in pack.frames)
