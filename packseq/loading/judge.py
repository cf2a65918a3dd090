"""A load made whole and held to both checks: the rules of loading and the replay of its stand order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice, permutations, product
from math import dist

from packseq.check import Replay, replay
from packseq.check.loading import LoadFault, MeasuredPack, broken_load_rules, measured
from packseq.house.model import House
from packseq.loading.assemble import Arranged, loaded, steps_of, travelling, waits_in
from packseq.loading.job import LoadJob
from packseq.loading.onpacks import steps_on_packs
from packseq.plan.build import Step, build_plan
from packseq.plan.load import LaidPack, Load
from packseq.plan.model import Plan
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.model import Place, Scenario, Spot
from packseq.standup.staging import proposed_spots

_MOST_LANDINGS_TRIED = 5000
_MOST_WAYS_REPLAYED = 6


@dataclass(frozen=True)
class Judged:
    """A load with the plan that stands it, and everything that is wrong with either.

    `house` has these packs delivered. `replayed` is None where frames that must wait have no room.
    """

    house: House
    load: Load
    order: tuple[str, ...]
    replayed: Replay | None
    faults: tuple[LoadFault, ...]

    @property
    def kept(self) -> bool:
        """Whether every rule of loading and of standing is kept."""
        return not self.faults and self.replayed is not None and self.replayed.kept

    @property
    def plan(self) -> Plan:
        """The plan that stands it.

        Raises
        ------
        ValueError
            When there is none.
        """
        if self.replayed is None:
            raise ValueError("the frames that must wait have no room, so there is no plan")
        return self.replayed.plan

    @property
    def packs(self) -> tuple[MeasuredPack, ...]:
        """The packs measured, in the order in which they are wanted."""
        return tuple(measured(pack, self.house.scenario) for pack in self.load.packs)

    @property
    def worth(self) -> tuple[int, int, int]:
        """Extra lifts, packs and walking in mm: what is least, in this order, is best."""
        if self.replayed is None:
            raise ValueError("the frames that must wait have no room, so there is no plan")
        cost = self.replayed.cost
        return (cost.extra_lifts, len(self.load.packs), cost.walking_mm)


def judge(job: LoadJob, found: Arranged, routes: Routes) -> Judged:
    """Return a load with its plan, checked.

    Parameters
    ----------
    job
        The job; its limits and landing places are what the load is held to.
    found
        The packs and the stand order.
    routes
        The routes from every landing place and spot of the scenario.
    """
    house = loaded(job.house, found.packs)
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    spots = _spots(house, places)
    load = travelling(found.packs, found.order, scenario)
    faults = broken_load_rules(scenario, load, found.order)
    waits = waits_in(found.packs, found.order, scenario)
    ways = routes
    if waits and spots and not scenario.spots:
        ways = build_routes(scenario, [spot_stop(spot) for spot in spots.values()])
    steps = steps_of(waits, found.order, house, spots, ways)
    told = _on_packs(found.order, scenario) if steps is None else iter((steps,))
    done: Replay | None = None
    for moves in told:
        plan = build_plan(house, moves, spots=spots, places=places, routes=ways)
        done = replay(house, plan, ways)
        if done.kept:
            break
    return Judged(house, load, found.order, done, faults)


def _spots(house: House, places: Mapping[str, Place]) -> Mapping[str, Spot]:
    """Return the spots of a plan: proposed ones where none are told and nothing may wait on a pack.

    Which walls stand when a frame is put down is not asked here: so none waits leaning on a wall.
    """
    scenario = house.scenario
    if scenario.spots or any(pack.holds for pack in scenario.packs.values()):
        return scenario.spots
    return {name: spot for name, spot in proposed_spots(house, places).items() if not spot.against}


def _on_packs(order: Sequence[str], scenario: Scenario) -> Iterator[tuple[Step, ...]]:
    """Return ways of letting frames wait on packs, where packs take any."""
    if not any(pack.holds for pack in scenario.packs.values()):
        return iter(())
    return islice(steps_on_packs(order, scenario), _MOST_WAYS_REPLAYED)


def better_landed(job: LoadJob, found: Arranged) -> Arranged:
    """Return a load with its packs on the landing places from which least is walked, in straight lines.

    Only where the places take packs of such a mass; of very many ways the first few thousand are tried.
    """
    scenario = job.scenario
    by_level: dict[int, list[LaidPack]] = {}
    for pack in found.packs:
        by_level.setdefault(scenario.frames[pack.frames[0]].level, []).append(pack)
    heavy = {pack.name: sum(job.grams[name] for name in pack.frames) for pack in found.packs}
    choices = [
        [
            dict(zip((pack.name for pack in packs), names, strict=True))
            for names in islice(
                permutations([each.name for each in job.landings_on[level]], len(packs)), _MOST_LANDINGS_TRIED
            )
            if all(heavy[pack.name] <= job.most_grams[name] for pack, name in zip(packs, names, strict=True))
        ]
        for level, packs in sorted(by_level.items())
    ]
    best: tuple[float, dict[str, str]] | None = None
    for combined in islice(product(*choices), _MOST_LANDINGS_TRIED):
        moved = {old: new for each in combined for old, new in each.items()}
        walked = _walked_mm(job, found, moved)
        if best is None or walked < best[0]:
            best = (walked, moved)
    if best is None:
        return found
    moved = best[1]
    by_new = {moved[pack.name]: replace(pack, name=moved[pack.name]) for pack in found.packs}
    return replace(found, packs=tuple(by_new[name] for name in job.landings if name in by_new))


def _walked_mm(job: LoadJob, found: Arranged, moved: Mapping[str, str]) -> float:
    """Return the straight walk of standing everything from its pack, as if nothing were set aside."""
    places: dict[str, Place] = {
        name: job.landings[moved[pack.name]].places[0] for pack in found.packs for name in pack.frames
    }
    middles = [job.scenario.frames[name].middle for name in found.order]
    carried = sum(dist(places[name].at, at) for name, at in zip(found.order, middles, strict=True))
    back = sum(dist(at, places[name].at) for at, name in zip(middles, found.order[1:], strict=False))
    return carried + back
