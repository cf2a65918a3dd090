"""Plans close to a known one: never worse, always kept by the check, and the best where all is close."""

from __future__ import annotations

from unittest.mock import patch

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from opened_states import SCALE, Laid, cost_of, laid_open, real_plan, sought
from standup_jobs import checked

from packseq.plan.build import Step, build_plan
from packseq.standup.states import corridor
from packseq.standup.states.corridor import Corridor
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, costed_moves
from packseq.standup.states.space import open_space


def step_of(laid: Laid, move: int) -> Step:
    name = laid.yard.frames.names[int(laid.moves.frame[move])]
    if laid.moves.kind[move] == Kind.ASIDE:
        return Step("set aside", name, to_spot=laid.yard.spots[int(laid.moves.spot[move])].name)
    return Step("stand", name)


def corridor_from_chance(laid: Laid, chance: int) -> Corridor:
    """Return the search from a plan made by chance."""
    plan = real_plan(laid.moves, np.random.default_rng(chance))
    assume(plan is not None)
    assert plan is not None
    return Corridor(laid.yard, SCALE, [step_of(laid, move) for move in plan], cost_of(laid.moves, plan))


def run(search: Corridor) -> None:
    while search.bound < FAR:
        before = search.cost
        search.go_on(int(FAR), lambda: False, [step.frame for step in search.steps if step.do == "stand"])
        assert search.cost <= before
        # As long as there are better plans to be found the search goes on.
        assert search.bound < search.cost or search.bound == FAR


@given(laid_open(), st.integers(0, 999))
@settings(max_examples=12, deadline=None)
def test_what_is_found_close_to_a_plan_keeps_the_rules_and_costs_what_it_says(
    laid: Laid, chance: int
) -> None:
    best = sought(laid.moves).cost
    with patch.multiple(corridor, _WIDTH=2, _WIDEST=4):
        search = corridor_from_chance(laid, chance)
        run(search)
    assert best is not None
    assert search.cost >= best
    scenario = laid.house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    plan = build_plan(laid.house, search.steps, spots=scenario.spots, places=places)
    # A frame alone in its run may be stood first in either direction; the plan then tells the first.
    if plan.direction == "anticlockwise":
        cost = checked(laid.house, plan).cost
        merged = SCALE.lift_worth * cost.extra_lifts + SCALE.mm_worth * cost.walking_mm + cost.breaks
        assert search.cost == merged


@given(laid_open(), st.integers(0, 999))
@settings(max_examples=12, deadline=None)
def test_where_every_state_is_close_the_best_plan_with_no_more_lifts_is_found(
    laid: Laid, chance: int
) -> None:
    with patch.multiple(corridor, _WIDTH=10_000, _WIDEST=10_000, _ROUNDS=4):
        search = corridor_from_chance(laid, chance)
        run(search)
    lifts = sum(step.do == "set aside" for step in search.steps)
    space = open_space(laid.yard, lifts)
    assert space is not None
    assert search.cost == sought(costed_moves(laid.yard, space, SCALE)).cost


@given(laid_open(), st.integers(0, 999))
@settings(max_examples=3, deadline=None)
def test_a_search_that_is_stopped_gives_up_and_keeps_its_plan(laid: Laid, chance: int) -> None:
    search = corridor_from_chance(laid, chance)
    steps, cost = search.steps, search.cost
    search.go_on(int(FAR), lambda: True)
    assert (search.steps, search.cost, search.bound) == (steps, cost, int(FAR))
