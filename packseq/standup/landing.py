"""The ways in which the packs may land, where the scenario lets the plan choose."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations, product

from packseq.geometry import overlap
from packseq.scenario.model import Place, Scenario


def landings(scenario: Scenario) -> Iterator[Mapping[str, Place]]:
    """Yield a place for each pack, the first of each first of all.

    Left out are landings in which two packs overlap or one lies on a no-go area; if all are, the
    first of each is yielded all the same.
    """
    packs = scenario.packs
    some = False
    for places in product(*(pack.places for pack in packs.values())):
        landed = dict(zip(packs, places, strict=True))
        if _clear(scenario, landed):
            some = True
            yield landed
    if not some:
        yield {name: pack.places[0] for name, pack in packs.items()}


def _clear(scenario: Scenario, landed: Mapping[str, Place]) -> bool:
    grounds = {name: pack.footprint(landed[name]) for name, pack in scenario.packs.items()}
    if any(overlap(ground, area) for ground in grounds.values() for area in scenario.no_go):
        return False
    return not any(
        scenario.packs[one].level == scenario.packs[other].level and overlap(grounds[one], grounds[other])
        for one, other in combinations(grounds, 2)
    )
