"""The planner against trying everything, where walls are solid and packs and spots lie anywhere.

The moves are tried one by one by the rules of the check, with its routes: the planner takes neither from it.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_house import frame, house_of, round_touches
from standup_jobs import checked

from packseq.check.job import Job, Lift
from packseq.check.rules import broken_rules
from packseq.check.state import Heap, State
from packseq.errors import NoPlanError
from packseq.house.model import House, LevelHouse
from packseq.plan.model import LapDirection
from packseq.routes.engine import build_routes
from packseq.routes.values import Stop
from packseq.scenario.model import Pack, Place, Spot, StandChoices
from packseq.standup.search import plan_standup

# A lopsided hut of four solid walls, and an internal frame 2 m long off the first.
LINES = {
    "S1": ((0.0, 0.0), (8000.0, 0.0)),
    "E1": ((8000.0, 0.0), (8300.0, 7000.0)),
    "N1": ((8300.0, 7000.0), (0.0, 8000.0)),
    "W1": ((0.0, 8000.0), (0.0, 0.0)),
    "I1": ((4100.0, 45.0), (4100.0, 2045.0)),
}
ROUND = ("S1", "E1", "N1", "W1")
# Outside, across a line, inside.
PACK_PLACES = ((3000.0, -3000.0), (11000.0, 3000.0), (0.0, 4000.0), (8100.0, 3500.0), (2000.0, 4500.0))
SPOT_PLACES = ((-4000.0, 3000.0), (5500.0, 4600.0), (4000.0, 0.0), (4000.0, 10500.0))
quick = settings(
    max_examples=8, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
long = settings(quick, max_examples=300)


@st.composite
def solid_houses(draw: st.DrawFn) -> House:
    open_wall = draw(st.sampled_from([None, *ROUND]))
    frames = [frame(name, line, solid=name != open_wall) for name, line in LINES.items()]
    order = draw(st.permutations(list(LINES)))
    cut = draw(st.sampled_from([5, 4, 2]))
    places = draw(st.permutations(PACK_PLACES))
    packs = [
        Pack(letter, 1, (Place(place, 90.0),), 0, layers, tuple(range(1, len(layers) + 1)), 2500, 1000)
        for letter, part, place in zip("AB", (order[:cut], order[cut:]), places, strict=False)
        if (layers := tuple((name,) for name in part))
    ]
    spots = [
        Spot(f"L{number}", 1, place, 0.0, (draw(st.sampled_from([2500.0, 9000.0])), 600.0), "lean", 3)
        for number, place in enumerate(draw(st.permutations(SPOT_PLACES))[: draw(st.integers(1, 2))])
    ]
    level = LevelHouse(1, ROUND, ("S1",), closed=True, internals=("I1",))
    stand = StandChoices(
        lap=draw(st.sampled_from(["one-way", "both-ways"])),
        direction=draw(st.sampled_from(["clockwise", "anticlockwise"])),
        hold_open=draw(st.integers(0, 2)),
    )
    touches = round_touches(ROUND, {"I1": ("S1",)})
    return house_of(frames, packs, (level,), touches, spots=spots, stand=stand)


def best_by_trying(house: House, *, once: bool = False) -> tuple[int, int] | None:
    """Return the least (extra lifts, walking) of any plan, or None; `once`: no frame set aside twice."""
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    direction: LapDirection = "clockwise" if scenario.stand.direction == "clockwise" else "anticlockwise"
    job = Job(house, scenario.spots, places, direction, build_routes(scenario))
    start = (job.beginning, None)
    least = {_key(*start): (0, 0)}
    ticket = count()
    waiting: list[tuple[tuple[int, int], int, State, Stop | None]] = [((0, 0), next(ticket), *start)]
    while waiting:
        cost, _, state, team_at = heapq.heappop(waiting)
        if cost > least[_key(state, team_at)]:
            continue
        if len(state.stood) == len(scenario.frames):
            return cost
        for lift in _lifts(job, state, team_at, once=once):
            after = state.after(lift.frame.name, lift.target)
            walked = sum(leg.mm for leg in (lift.empty, lift.loaded) if leg is not None)
            total = (cost[0] + (lift.target is not None), cost[1] + walked)
            key = _key(after, lift.drop)
            if key not in least or total < least[key]:
                least[key] = total
                heapq.heappush(waiting, (total, next(ticket), after, lift.drop))
    return None


def _lifts(job: Job, state: State, team_at: Stop | None, *, once: bool) -> Iterator[Lift]:
    for name, source in state.lies.items():
        frame = job.house.scenario.frames[name]
        targets = [None, *(Heap(spot.kind, spot.name) for spot in job.spots.values())]
        for target in targets:
            if target == source or (once and target is not None and source.kind != "pack"):
                continue
            lift = Lift(job, state, frame, source, target, 4, team_at)
            if not any(broken_rules(lift)):
                yield lift


def _key(state: State, team_at: Stop | None) -> object:
    lying = tuple(sorted((str(heap), layers) for heap, layers in state.heaps.items()))
    return lying, state.standing, team_at


def hold_against_trying(house: House) -> None:
    best = best_by_trying(house)
    try:
        plan = plan_standup(house, limit_s=30)
    except NoPlanError:
        # Said of plans that set no frame aside twice; of all where every order was tried.
        assert best_by_trying(house, once=True) is None
        return
    checked(house, plan)
    assert best is not None
    lifts, walking, _ = plan.stages
    assert (lifts.value, walking.value) >= best
    assert lifts.bound <= best[0]
    if lifts.status == "optimal":
        assert lifts.value == best[0]
        assert walking.bound <= best[1]
    if walking.status == "optimal":
        assert walking.value == best[1]


@quick
@given(solid_houses())
def test_a_plan_among_solid_walls_is_as_good_as_trying_everything(house: House) -> None:
    hold_against_trying(house)


@pytest.mark.slow
@long
@given(solid_houses())
def test_plans_among_many_solid_walls_are_as_good_as_trying_everything(house: House) -> None:
    hold_against_trying(house)
