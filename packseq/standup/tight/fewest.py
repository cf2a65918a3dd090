"""The fewest extra lifts of a house by a search over states: both directions, level by level."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import get_args

from packseq.check.job import Job
from packseq.check.rules import Rule
from packseq.house.model import House
from packseq.plan.build import Step
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.model import Place, Spot
from packseq.standup.solver import Clock
from packseq.standup.tight.budget import Budget
from packseq.standup.tight.retrace import steps_through
from packseq.standup.tight.search import YardSearch
from packseq.standup.tight.yard import Yard, yard_of

WORK_PER_SECOND = 60_000
"""Lifts looked at for each second of the limit: on most machines the work runs out before the clock."""
_NARROW, _WIDEN, _WIDEST = 100, 4, 100_000
"""States kept of a layer when looking for plans: at first, times which from round to round, at last."""
_ROUND = 3
"""One part in so many of what is left goes to proving in each round; the last round has it all."""


@dataclass(frozen=True, slots=True)
class ByStates:
    """What a search over states found.

    Parameters
    ----------
    direction
        The direction of the best plan; without a plan, of the last one looked at.
    steps
        The best plan found, or None.
    extra_lifts
        Its extra lifts, or None.
    bound
        A number of extra lifts that every plan has at least; of no meaning where there is none.
    proven
        Whether nothing is left to find: `extra_lifts` are the fewest or, without a plan, there is none.
    """

    direction: LapDirection
    steps: tuple[Step, ...] | None
    extra_lifts: int | None
    bound: int
    proven: bool


@dataclass(frozen=True, eq=False)
class _Way:
    """One direction: a search for each level. Levels do not meet, so their fewest lifts add up.

    No frame of a level is lifted before all below it stand, and it waits only on packs and spots
    of its own level.
    """

    direction: LapDirection
    levels: tuple[tuple[Yard, YardSearch], ...]
    impossible_order: bool
    at_least: int

    @property
    def searches(self) -> tuple[YardSearch, ...]:
        return tuple(search for _, search in self.levels)

    @property
    def impossible(self) -> bool:
        return self.impossible_order or any(search.impossible for search in self.searches)

    @property
    def value(self) -> int | None:
        values = [search.value for search in self.searches if search.value is not None]
        return sum(values) if len(values) == len(self.levels) and not self.impossible_order else None

    @property
    def bound(self) -> int:
        return max(self.at_least, sum(search.bound for search in self.searches))

    @property
    def done(self) -> bool:
        return self.impossible or (self.value is not None and self.value <= self.bound)


def fewest_by_states(
    house: House,
    *,
    limit_s: float,
    limit_work: int | None = None,
    stop: threading.Event | None = None,
    spots: Mapping[str, Spot] | None = None,
    places: Mapping[str, Place] | None = None,
    routes: Routes | None = None,
    at_least: Mapping[LapDirection, int] | None = None,
    blocks: Callable[[str], bool] | None = None,
    further: Mapping[str, Rule] | None = None,
) -> ByStates:
    """Return the plan with the fewest extra lifts that a search over states finds.

    Frames may be set aside more than once, on spots and on top of packs that take them. Whoever calls
    sees to it that no frame is too heavy for the crew.

    Parameters
    ----------
    house
        What is to stand.
    limit_s, limit_work, stop
        The search ends after so many seconds, after so many lifts looked at (`WORK_PER_SECOND` for each
        second unless given), or once stopped. Only the work gives the same answer every time.
    spots, places
        The spots there are, and where the packs lie: those of the scenario, and the first place of each
        pack, unless given.
    routes
        The ways between these spots, packs and lines, for rules of `further` that ask for them; worked
        out unless given.
    at_least
        A number of extra lifts that every plan in a direction is known to have at least.
    blocks
        Tells of a frame whether its standing can make it impossible to keep a rule of `further` later
        on. None does unless given. Every other frame is stood as soon as it can be.
    further
        Rules that lifts must keep besides those on order, packs, spots and crew.
    """
    scenario = house.scenario
    there = scenario.spots if spots is None else spots
    at = {name: pack.places[0] for name, pack in scenario.packs.items()} if places is None else places
    asked = scenario.stand.direction
    directions: tuple[LapDirection, ...] = get_args(LapDirection) if asked == "auto" else (asked,)
    budget = Budget(
        round(limit_s * WORK_PER_SECOND) if limit_work is None else limit_work, Clock(limit_s, stop)
    )
    ground = routes or build_routes(scenario, [spot_stop(spot) for spot in there.values()])
    ways = []
    for direction in directions:
        job = Job(house, there, at, direction, ground)
        yards = [yard_of(job, level, blocks=blocks, further=further) for level in scenario.levels]
        levels = tuple((yard, YardSearch(yard)) for yard in yards if yard is not None)
        ways.append(_Way(direction, levels, None in yards, (at_least or {}).get(direction, 0)))
    width = _NARROW
    while budget.left and width < _WIDEST and _open(ways):
        _improve(ways, budget, width)
        width *= _WIDEN
        _prove(ways, budget, _ROUND if width < _WIDEST else 1)
    return _result(ways)


def _result(ways: list[_Way]) -> ByStates:
    best = min(ways, key=lambda way: (way.impossible, way.value is None, way.value or 0))
    bounds = [way.bound for way in ways if not way.impossible]
    if best.value is None:
        bound = min(bounds, default=min(way.bound for way in ways))
        return ByStates(best.direction, None, None, bound, proven=not bounds)
    steps = tuple(step for yard, search in best.levels for step in steps_through(yard, search.states or ()))
    bound = min(*bounds, best.value)
    return ByStates(best.direction, steps, best.value, bound, proven=bound == best.value)


def _open(ways: list[_Way]) -> list[_Way]:
    """Return the directions that may still come to fewer extra lifts than the best plan."""
    best = min((way.value for way in ways if way.value is not None and not way.impossible), default=None)
    return [way for way in ways if not way.done and (best is None or way.bound < best)]


def _improve(ways: list[_Way], budget: Budget, width: int) -> None:
    for way in ways:
        for search in way.searches:
            if way in _open(ways):
                search.improve(width, budget)


def _prove(ways: list[_Way], budget: Budget, part: int) -> None:
    """Share one part in so many of what is left of the budget out among what is not proven."""
    left = [(way, search) for way in ways for search in way.searches if not search.done]
    for place, (way, search) in enumerate(left):
        if way not in _open(ways):
            continue
        share = budget.share(part * (len(left) - place))
        best = min((each.value for each in ways if each.value is not None), default=None)
        others = way.bound - search.bound
        search.prove(share, None if best is None else best - others)
        budget.spend(share.spent)
