"""Runs of the search over states, their plans replayed, and the fewest extra lifts by trying everything."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import replace

from oracle import Lap, Oracle, State

from packseq.check import replay
from packseq.house.model import House
from packseq.plan.build import build_plan
from packseq.scenario.model import Spot
from packseq.standup.tight.fewest import ByStates, fewest_by_states

# Enough for the small houses of tests; the clock is only there to end a hang.
WORK = 400_000
LIMIT_S = 120.0


def searched(house: House, *, spots: Mapping[str, Spot] | None = None, work: int = WORK) -> ByStates:
    """Return what the search found, its plan replayed: it keeps every rule and has the lifts it says."""
    found = fewest_by_states(house, limit_s=LIMIT_S, limit_work=work, spots=spots)
    hold_to_the_check(house, found, spots)
    return found


def hold_to_the_check(house: House, found: ByStates, spots: Mapping[str, Spot] | None = None) -> None:
    """Replay a found plan."""
    if found.steps is None:
        assert found.extra_lifts is None
        return
    there = house.scenario.spots if spots is None else spots
    places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
    bare = replace(house, scenario=replace(house.scenario, spots=there))
    plan = build_plan(bare, found.steps, spots=there, places=places)
    done = replay(bare, plan)
    # The ways between packs, spots and lines are kept only where the caller asks for it (`further`).
    assert {violation.rule for violation in done.violations} <= {"way-in", "ground-clear"}, done.violations
    assert plan.direction is not None
    assert done.cost.extra_lifts == found.extra_lifts
    assert found.bound <= (found.extra_lifts or 0)
    assert found.proven == (found.bound == found.extra_lifts)


def fewest_by_trying_everything(house: House, spots: tuple[Spot, ...] | None = None) -> int | None:
    """Return the fewest extra lifts of any plan, None without one: breadth first over all states."""
    oracle = Oracle(house, spots=spots)
    found = [lifts for way in oracle.directions if (lifts := _fewest(Lap(oracle, way))) is not None]
    return min(found, default=None)


def _fewest(lap: Lap) -> int | None:
    scenario = lap.oracle.house.scenario
    packs = tuple(tuple(tuple(sorted(layer)) for layer in pack.layers) for pack in scenario.packs.values())
    start = State(packs, tuple(() for _ in lap.oracle.there), frozenset(), None, None)
    least = {start: 0}
    waiting = deque([start])
    while waiting:
        state = waiting.popleft()
        lifts = least[state]
        if len(state.stood) == len(scenario.frames):
            return lifts
        for _, extra, _, _, after in lap.moves(state):
            following = replace(after, last=None, team_at=None)
            if following not in least or lifts + extra < least[following]:
                least[following] = lifts + extra
                if extra:
                    waiting.append(following)
                else:
                    waiting.appendleft(following)
    return None
