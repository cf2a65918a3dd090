"""Which limit costs how many extra lifts, and the nearest value of each that frees them."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from packseq.check.loading import MeasuredPack
from packseq.house.model import House
from packseq.loading.assemble import Arranged
from packseq.loading.best import BestLoad
from packseq.loading.job import LoadJob, landings_of, limited
from packseq.loading.judge import Judged, judge
from packseq.loading.model import hint, ruled
from packseq.loading.search import LoadSearch
from packseq.loading.solve import solved
from packseq.scenario.model import Landing
from packseq.standup.solver import Clock, Solver

LANDINGS = "landing places"
"""What stands for the number of ``[[pack]]`` in site.toml among the keys of ``[load]``."""

OWN_MASS, DECKS = "pack.most_kg", "deck"
"""What stands for the mass limits of single landing places, and for the trucks."""

_FAR_MM = 20_000.0
_WORK_PER_SECOND = 0.1


@dataclass(frozen=True, slots=True)
class LimitCost:
    """What a limit costs: with it `lifts_with`, with another value of it alone `lifts_without`.

    `value` is the limit as it is, `freed_at` a value with which a checked load has `lifts_without`; None
    for what is either so or not so. `nearest` tells that no tighter value does, which is proven.
    `key` is its key in ``[load]``.
    """

    key: str
    value: float | None
    freed_at: float | None
    lifts_with: int
    lifts_without: int
    nearest: bool

    @property
    def costs(self) -> int:
        """The extra lifts that the limit costs."""
        return self.lifts_with - self.lifts_without


def _without(house: House) -> Mapping[str, House]:
    """Return, for each limit that could cost anything, the house without it."""
    limits, frames = house.scenario.load, house.scenario.frames
    heavy_kg = sum(frame.mass_kg for frame in frames.values()) + 1
    thick_mm = sum(frame.thickness_mm for frame in frames.values())
    without = {
        "most_kg": replace(limits, most_kg=max(heavy_kg, limits.most_kg)),
        "most_layers": replace(limits, most_layers=max(len(frames), limits.most_layers)),
        "most_height_mm": replace(
            limits, most_height_mm=max(limits.bearer_mm + thick_mm + len(frames), limits.most_height_mm)
        ),
        "overhang_mm": replace(limits, overhang_mm=max(_FAR_MM, limits.overhang_mm)),
        "most_packs": replace(limits, most_packs=None),
        "balance_mm": replace(limits, balance_mm=max(_FAR_MM, limits.balance_mm)),
        "end_to_end": replace(limits, end_to_end=True),
        "side_by_side": replace(limits, side_by_side=True),
        "together": replace(limits, together=()),
        "apart": replace(limits, apart=()),
    }
    houses = {key: limited(house, other) for key, other in without.items() if other != limits}
    scenario = house.scenario
    if any(landing.most_kg is not None for landing in scenario.landings.values()):
        freed = {
            name: replace(
                landing, most_kg=None if landing.most_kg is None else max(heavy_kg, landing.most_kg)
            )
            for name, landing in scenario.landings.items()
        }
        houses[OWN_MASS] = replace(house, scenario=replace(scenario, landings=MappingProxyType(freed)))
    if scenario.decks:
        houses[DECKS] = replace(house, scenario=replace(scenario, decks=()))
    return MappingProxyType({**houses, LANDINGS: _one_more_landing(house)})


def _one_more_landing(house: House) -> House:
    """Return the house with one landing place more on each level, beside the last one."""
    scenario = house.scenario
    landings = dict(landings_of(scenario))
    for level in scenario.levels:
        last = [landing for landing in landings.values() if landing.level == level][-1]
        name = f"one more, level {level}"
        landings[name] = replace(last, name=name)
    return replace(house, scenario=replace(scenario, landings=MappingProxyType(landings)))


_MEASURED = ("most_kg", "most_layers", "most_height_mm", "overhang_mm", "most_packs")
"""The limits of which the nearest value is looked for."""


def limit_costs(best: BestLoad, *, limit_s: float, seed: int = 0) -> tuple[BestLoad, tuple[LimitCost, ...]]:
    """Return the limits that cost extra lifts, the one that costs most first; none where there are none.

    A load found without a limit may keep it all the same. It is then better than the best one known, and
    returned in its place: the limit cost nothing.

    Parameters
    ----------
    best
        The best load known under the limits as they are.
    limit_s
        Seconds for all of it.
    seed
        Seed of the searches.
    """
    costs: list[LimitCost] = []
    without = _without(best.house)
    for key, house in without.items():
        share_s = limit_s / len(without)
        search = LoadSearch(house, Solver(Clock(share_s), seed), share_s)
        freed = None if best.extra_lifts == 0 else search.fewest_lifts()[0]
        if freed is None or freed.worth[0] >= best.extra_lifts:
            continue
        kept = _kept_all_the_same(best, search, freed)
        if kept is None:
            costs.append(_cost(best, key, search, freed))
        else:
            own = LoadSearch(best.house, search.solver, share_s)
            best = own.finished(kept, best.stages[0].bound)
    told = [
        replace(cost, lifts_with=best.extra_lifts) for cost in costs if cost.lifts_without < best.extra_lifts
    ]
    return best, tuple(sorted(told, key=lambda cost: (-cost.costs, cost.key)))


def _kept_all_the_same(best: BestLoad, search: LoadSearch, freed: Judged) -> Judged | None:
    """Return a load found without a limit as the limits have it; None where it breaks them."""
    if any(pack.name not in landings_of(best.house.scenario) for pack in freed.load.packs):
        return None
    job = replace(
        next(each for each in search.jobs if each.direction == freed.plan.direction), house=best.house
    )
    judged = judge(job, Arranged(freed.load.packs, freed.order), search.standing[job.direction].routes)
    return judged if judged.kept else None


def _cost(best: BestLoad, key: str, search: LoadSearch, freed: Judged) -> LimitCost:
    """Return what a limit costs, and the nearest value found that frees as many lifts."""
    lifts = freed.worth[0]
    if key == LANDINGS:
        places = float(len(landings_of(best.house.scenario)))
        more = places + len(best.house.scenario.levels)
        return LimitCost(
            key, places, more, best.extra_lifts, lifts, nearest=len(best.house.scenario.levels) == 1
        )
    if key not in _MEASURED:
        return LimitCost(key, None, None, best.extra_lifts, lifts, nearest=False)
    own = float(getattr(best.house.scenario.load, key))
    freed_at, bound = float(math.ceil(_needed(freed, key) - 1e-6)), math.inf
    for job in search.jobs:
        value, least = _tightened(search, job, key, own, freed)
        freed_at, bound = min(freed_at, value), min(bound, least)
    return LimitCost(key, own, freed_at, best.extra_lifts, lifts, nearest=freed_at <= bound)


def _needed(freed: Judged, key: str) -> float:
    """Return the value of a limit that a load needs."""
    landings = freed.house.scenario.landings
    needs: Mapping[str, Callable[[MeasuredPack], float]] = {
        # What a landing place takes by its own limit does not count.
        "most_kg": lambda pack: 0.0 if _own_most(landings, pack.name) else pack.mass_kg,
        "most_layers": lambda pack: len(pack.layers),
        "most_height_mm": lambda pack: pack.height_mm,
        "overhang_mm": lambda pack: pack.overhang_mm,
        "most_packs": lambda _: len(freed.packs),
    }
    return max(map(needs[key], freed.packs))


def _own_most(landings: Mapping[str, Landing], name: str) -> bool:
    return name in landings and landings[name].most_kg is not None


def _tightened(search: LoadSearch, job: LoadJob, key: str, own: float, freed: Judged) -> tuple[float, float]:
    """Return the tightest value of a limit found in one direction, and one that none is tighter than.

    Infinite where nothing was found, and where nothing can be.
    """
    standing = search.standing[job.direction]
    as_it_is: dict[str, Any] = {key: own}
    v = ruled(job.with_limits(replace(job.limits, **as_it_is)), eased=key)
    v.model.add(v.extra_lifts <= freed.worth[0])
    v.model.minimize(v.easing(int(own), int(own)))
    hint(v, freed.load.packs, freed.order)
    answer = solved(job, v, standing, search.solver, _WORK_PER_SECOND * search.limit_s)
    value = math.inf if answer.judged is None else math.ceil(_needed(answer.judged, key) - 1e-6)
    return max(value, own), max(answer.bound, own)
