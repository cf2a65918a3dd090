"""Packs and spots that cannot lie where site.toml puts them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations

from packseq.errors import Fault
from packseq.geometry import Ring, overlap
from packseq.scenario.files import SITE
from packseq.scenario.model import Pack, Scenario
from packseq.scenario.names import label

Grounds = Mapping[str, Sequence[Ring]]
Apart = Mapping[tuple[str, str], frozenset[tuple[int, int]]]
"""For two packs, the places of the one and of the other, by number, that do not overlap."""

_MOST_TRIALS = 10_000
"""Part landings looked at: more than any real choice of places needs."""


def ground_faults(scenario: Scenario) -> Iterator[Fault]:
    """Tell which packs and spots lie on no-go areas, and which packs cannot be landed together.

    A pack that may land in several places is at fault when none of them will do.
    """
    number = {name: place for place, name in enumerate(scenario.landings, start=1)}
    grounds: dict[str, list[Ring]] = {}
    for name, pack in scenario.packs.items():
        given = [pack.footprint(place) for place in pack.places]
        areas = [_area_under(ground, scenario) for ground in given]
        grounds[name] = [ground for ground, area in zip(given, areas, strict=True) if area is None]
        if not grounds[name]:
            yield Fault(SITE, _on_area(pack, areas), column=f"pack[{number[name]}]")
    for place, spot in enumerate(scenario.spots.values(), start=1):
        area = _area_under(spot.footprint, scenario)
        if area is not None:
            text = f"spot {label(spot.name)} lies on {area}, where nobody can walk: move it clear"
            yield Fault(SITE, text, column=f"spot[{place}]")
    for level in scenario.levels:
        here = {name: grounds[name] for name, pack in scenario.packs.items() if pack.level == level}
        yield from _together({name: clear for name, clear in here.items() if clear}, number)


def _area_under(ground: Ring, scenario: Scenario) -> str | None:
    for place, area in enumerate(scenario.no_go, start=1):
        if overlap(ground, area):
            return f"no_go[{place}]"
    return None


def _on_area(pack: Pack, areas: Sequence[str | None]) -> str:
    named = " and ".join(dict.fromkeys(area for area in areas if area is not None))
    size = f"{pack.length_mm:.0f} x {pack.width_mm:.0f} mm"
    if len(areas) == 1:
        return f"pack {label(pack.name)}, {size}, lies on {named}: land it clear"
    return f"pack {label(pack.name)}, {size}, lies on {named} in every place given: give one that is clear"


def _together(grounds: Grounds, number: Mapping[str, int]) -> Iterator[Fault]:
    """Tell which packs of a level overlap wherever each of them lands."""
    apart: Apart = {
        (one, other): frozenset(
            (here, there)
            for here, ground in enumerate(grounds[one])
            for there, another in enumerate(grounds[other])
            if not overlap(ground, another)
        )
        for one, other in combinations(grounds, 2)
    }
    never = [pair for pair, clear in apart.items() if not clear]
    for one, other in never:
        choice = max(len(grounds[one]), len(grounds[other])) > 1
        text = f"packs {label(one)} and {label(other)} overlap" + (
            " in every place given: give one that is clear" if choice else ": land them apart"
        )
        yield Fault(SITE, text, column=f"pack[{number[other]}]")
    if not never and not _can_land(tuple(grounds), grounds, apart):
        # Only packs with a choice can be caught so: pairs that always overlap are told above.
        stuck = _stuck(grounds, apart)
        text = (
            f"packs {', '.join(map(label, stuck))} cannot all be landed: two of them overlap in every choice"
        )
        yield Fault(SITE, f"{text} of places", column=f"pack[{number[stuck[-1]]}]")


def _stuck(grounds: Grounds, apart: Apart) -> tuple[str, ...]:
    """Return packs that cannot all be landed, none of which could be spared."""
    stuck = tuple(grounds)
    for name in grounds:
        fewer = tuple(other for other in stuck if other != name)
        if not _can_land(fewer, grounds, apart):
            stuck = fewer
    return stuck


def _can_land(names: Sequence[str], grounds: Grounds, apart: Apart) -> bool:
    """Tell whether packs can be landed clear of one another; taken as so where too much is to be tried."""
    trials: list[tuple[int, ...]] = [()]
    for _ in range(_MOST_TRIALS):
        if not trials:
            return False
        landed = trials.pop()
        if len(landed) == len(names):
            return True
        name = names[len(landed)]
        trials += [
            (*landed, place)
            for place in range(len(grounds[name]))
            if all((here, place) in apart[other, name] for other, here in zip(names, landed, strict=False))
        ]
    return True
