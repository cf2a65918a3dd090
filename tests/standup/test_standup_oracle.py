"""The planner against trying everything: what it calls optimal is, and its bounds hold."""

from __future__ import annotations

import pytest
from drawn_houses import ANY_LIFT_WORTH_M, houses
from hypothesis import HealthCheck, given, settings
from oracle import Oracle
from small_house import hut, lean, pile, plan_of
from standup_jobs import checked

from packseq.errors import NoPlanError
from packseq.house.model import House
from packseq.scenario.model import StandChoices
from packseq.standup.search import plan_standup

# Drawn houses are solved in well under a second each; the limit is only there to end a hang.
LIMIT_S = 60.0
quick = settings(
    max_examples=10, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
long = settings(quick, max_examples=150)


def hold_against_the_oracle(house: House) -> None:
    best = Oracle(house).best()
    try:
        plan = plan_standup(house, limit_s=LIMIT_S)
    except NoPlanError:
        # The planner sets each frame aside at most once, on spots only, and says so.
        assert Oracle(house, once=True, pack_tops=False).best() is None
        return
    checked(house, plan)
    assert best is not None
    assert tuple(stage.value for stage in plan.stages) >= best.cost
    for stage, least in zip(plan.stages, best.cost, strict=True):
        # A bound speaks of every plan that ties in the stages before it, so it holds while those are best.
        assert stage.bound <= least, (plan.stages, best)
        if stage.status != "optimal":
            break
        assert stage.value == least, (plan.stages, best)


@quick
@given(houses())
def test_a_staged_plan_is_as_good_as_trying_everything(house: House) -> None:
    hold_against_the_oracle(house)


@settings(quick, max_examples=4)
@given(houses(lift_worth_m=ANY_LIFT_WORTH_M))
def test_a_plan_of_one_cost_is_as_good_as_trying_everything(house: House) -> None:
    hold_against_the_oracle(house)


@quick
@given(houses(tops=True))
def test_nothing_is_called_optimal_that_a_frame_on_top_of_a_pack_betters(house: House) -> None:
    hold_against_the_oracle(house)


@pytest.mark.slow
@long
@given(houses(most=7))
def test_larger_staged_plans_are_as_good_as_trying_everything(house: House) -> None:
    hold_against_the_oracle(house)


@pytest.mark.slow
@long
@given(houses(lift_worth_m=ANY_LIFT_WORTH_M))
def test_many_plans_of_one_cost_are_as_good_as_trying_everything(house: House) -> None:
    hold_against_the_oracle(house)


def test_the_oracle_finds_the_optimum_worked_by_hand() -> None:
    # Hut, one-way anticlockwise S1 E1 N1 W1; pack A at (6000, -4000) holds W1, S1, E1, N1 from the top.
    # W1 lies on S1, which is first, so it is set aside: 1 extra lift. Pile P at (0, -4000).
    # Loaded and empty legs, each rounded: W1 A-P 6000; P-A 6000, S1 A-(3000, 0) sqrt(3000^2 + 4000^2) = 5000,
    # back 5000, E1 A-(6000, 4000) 8000, back 8000, N1 A-(3000, 8000) sqrt(3000^2 + 12000^2) = 12369.3;
    # N1-P the same 12369.3, W1 P-(0, 4000) 8000. Sum 12000 + 10000 + 16000 + 12369 + 12369 + 8000 = 70738.
    # S1 E1 N1 W1 go round the corner each time: no break.
    house = hut(spots=(pile(),), stand=StandChoices(direction="anticlockwise"))
    best = Oracle(house).best()
    assert best is not None
    assert best.cost == (1, 70738, 0)
    assert best.moves == ("W1>P", "S1", "E1", "N1", "W1")


def test_the_oracle_keeps_apart_what_a_pile_and_a_lean_let_go() -> None:
    # W1, N1 and E1 lie on S1. Put down in that order, a pile gives E1 first, then N1, then W1: one lap.
    # In the other order of the pack the pile gives them the wrong way round, a lean any way.
    one_way = StandChoices(direction="anticlockwise")
    right, wrong = (("W1",), ("N1",), ("E1",), ("S1",)), (("E1",), ("N1",), ("W1",), ("S1",))
    for layers, spot, can in ((right, pile(), True), (wrong, pile(), False), (wrong, lean(), True)):
        best = Oracle(hut(layers, spots=(spot,), stand=one_way)).best()
        assert (best is not None) == can


def test_every_plan_of_the_oracle_keeps_the_rules_of_the_replay() -> None:
    house = hut((("W1",), ("N1", "E1"), ("S1",)), spots=(pile(holds=2), lean("L", (11000, 0), 1)))
    best = Oracle(house).best()
    assert best is not None
    done = checked(house, plan_of(house, " ".join(best.moves)))
    assert (done.cost.extra_lifts, done.cost.walking_mm, done.cost.breaks) == best.cost
