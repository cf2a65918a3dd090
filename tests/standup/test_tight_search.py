"""The search over states: worked by hand, what it rests on, and what it says when it is stopped."""

from __future__ import annotations

import random
import threading
from collections import Counter
from typing import get_args

import numpy as np
import pytest
from drawn_houses import houses
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from relocation_files import house_of_stacks
from small_house import hut, lean, pack, pile, two_floors
from tight_jobs import hold_to_the_check, searched

from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.routes.engine import build_routes
from packseq.scenario.model import StandChoices
from packseq.standup.tight.bound import Bound
from packseq.standup.tight.fewest import fewest_by_states
from packseq.standup.tight.yard import Yard, yard_of

ONE_WAY = StandChoices(direction="anticlockwise")
DEEP = ((4, 12, 3, 15), (9, 1, 6, 14), (7, 2, 10, 16), (5, 11, 13, 8))


def test_two_packs_and_no_spot_need_four_lifts_by_hand() -> None:
    # S1 E1 N1 W1. A holds N1 on S1, B holds W1 on E1. Whatever leaves one pack goes on the other. N1 must
    # leave S1 and can only go on B, over E1, which comes first: it is set aside twice. W1 must leave E1,
    # with N1 not stood: either N1 lies in A, and W1 on it must move again, or W1 goes on A before N1 has left
    # S1, and must move again for S1. So twice each, 4 in all, and N1>B S1 N1>A W1>A E1 W1>B N1 W1 does.
    packs = (
        pack("A", (6000, -4000), (("N1",), ("S1",)), holds=9),
        pack("B", (0, -4000), (("W1",), ("E1",)), holds=9),
    )
    found = searched(hut(packs=packs, stand=ONE_WAY))
    assert (found.extra_lifts, found.proven) == (4, True)
    assert found.steps is not None
    lifts = Counter(step.frame for step in found.steps if step.do == "set aside")
    assert lifts == {"N1": 2, "W1": 2}


def test_a_lean_saves_the_second_lift_that_a_pile_costs_by_hand() -> None:
    # S1 comes first and lies under them all. Put down as E1 N1 W1, a pile gives them back as W1 N1 E1, the
    # wrong way round. A lean gives them in any order: one extra lift each.
    layers = (("E1",), ("N1",), ("W1",), ("S1",))
    with_lean = searched(hut(layers, spots=(lean(),), stand=ONE_WAY))
    assert (with_lean.extra_lifts, with_lean.proven) == (3, True)
    # Two piles of two: two of the three share a pile, and the upper was put down, and is wanted, later. So
    # four at least, and W1 put on N1 goes over to the first pile once E1 has left it.
    two = (pile("P", holds=2), pile("Q", (9000, 0), holds=2))
    with_piles = searched(hut(layers, spots=two, stand=ONE_WAY))
    assert (with_piles.extra_lifts, with_piles.proven) == (4, True)
    assert searched(hut(layers, spots=(pile(),), stand=ONE_WAY)).steps is None


def test_levels_are_searched_one_by_one_and_their_lifts_add_up() -> None:
    # Below all frames share a layer; above, UW1 lies on US1, which is first: one extra lift on Q.
    found = searched(two_floors(spots=(pile("Q", level=2),), stand=ONE_WAY))
    assert (found.extra_lifts, found.proven) == (1, True)
    # A spot of the lower level is of no use to it.
    assert searched(two_floors(spots=(pile("Q", level=1),), stand=ONE_WAY)).steps is None


def test_the_same_house_gives_the_same_plan() -> None:
    house = house_of_stacks(DEEP, 6)
    assert searched(house) == searched(house)


@pytest.mark.parametrize("work", [0, 500, 5_000])
def test_with_little_work_the_plan_is_checked_and_the_bound_holds(work: int) -> None:
    house = house_of_stacks(DEEP, 6)
    found, whole = searched(house, work=work), searched(house)
    assert whole.proven
    assert found.extra_lifts is not None
    assert whole.extra_lifts is not None
    assert found.bound <= whole.extra_lifts <= found.extra_lifts


def test_once_stopped_the_search_ends_with_what_it_has() -> None:
    stop = threading.Event()
    stop.set()
    house = house_of_stacks(DEEP, 6)
    found = fewest_by_states(house, limit_s=60, stop=stop)
    hold_to_the_check(house, found)
    assert not found.proven


def test_a_bound_known_from_elsewhere_is_taken_over() -> None:
    house = house_of_stacks(DEEP, 6)
    fewest = searched(house).extra_lifts
    assert fewest is not None
    found = fewest_by_states(house, limit_s=60, limit_work=0, at_least={"anticlockwise": fewest})
    assert found.bound == fewest


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(houses(most=7), st.sampled_from(get_args(LapDirection)), st.randoms(use_true_random=False))
def test_the_order_rules_never_take_back_what_they_allow(
    house: House, direction: LapDirection, dice: random.Random
) -> None:
    job = job_of(house, direction)
    stood: tuple[str, ...] = ()
    allowed: set[str] = set()
    while len(stood) < len(house.scenario.frames):
        now = {name for name in house.scenario.frames if name not in stood and may_stand(job, name, stood)}
        assert allowed <= now | set(stood)
        allowed = now
        stood = (*stood, dice.choice(sorted(now)))


def job_of(house: House, direction: LapDirection) -> Job:
    places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
    return Job(house, {}, places, direction, build_routes(house.scenario))


def may_stand(job: Job, name: str, stood: tuple[str, ...]) -> bool:
    frame = job.house.scenario.frames[name]
    lift = Lift(job, State({}, {}, stood, frozenset(stood)), frame, Heap("pack", "A"), None, 4, None)
    return not list(broken_rules(lift, ORDER_RULES))


@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(houses(), st.sampled_from(get_args(LapDirection)), st.randoms(use_true_random=False))
def test_what_surely_comes_first_comes_first_in_every_order(
    house: House, direction: LapDirection, dice: random.Random
) -> None:
    job = job_of(house, direction)
    stood: tuple[str, ...] = ()
    while len(stood) < len(house.scenario.frames):
        can = [name for name in house.scenario.frames if name not in stood and may_stand(job, name, stood)]
        stood = (*stood, dice.choice(can))
    for level in house.scenario.levels:
        yard = yard_of(job, level)
        assert yard is not None
        for first, later in np.argwhere(yard.before):
            assert stood.index(yard.frames[first]) < stood.index(yard.frames[later])


def stacks_of(count: int, width: int, seed: int) -> House:
    blocks = random.Random(seed).sample(range(1, count + 1), count)
    return house_of_stacks([blocks[start::width] for start in range(width)], count)


def yard_in(house: House) -> Yard:
    yard = yard_of(job_of(house, "anticlockwise"), 1)
    assert yard is not None
    return yard


def plain_bound(house: House) -> int:
    """Work out by its words what frames forced to move again add: see docs/tight.md."""
    stacks = [[int(name[1:]) for name in reversed(each.frames)] for each in house.scenario.packs.values()]
    good = [[block for at, block in enumerate(stack) if min(stack[: at + 1]) == block] for stack in stacks]
    queues = []
    for place, stack in enumerate(stacks):
        for at, block in enumerate(stack):
            lowest = min(stack[: at + 1])
            if lowest < block:
                others = [each for other, each in enumerate(good) if other != place]
                queues.append([sum(lowest < one < block for one in each) for each in others])
                queues[-1].insert(place, 99)
    stuck = [queue for queue in queues if min(queue) > 0]
    width = range(len(stacks))
    off_one = [sum(queue[place] == 1 for queue in stuck) for place in width]
    off_two = [sum(queue[place] <= 2 for queue in stuck) for place in width]
    by_two = max(*off_two, sum(sorted(off_one)[-2:]))
    return min(len(stuck), 1 + max(0, len(stuck) - max(off_one)), 2 + max(0, len(stuck) - by_two), 3)


@pytest.mark.parametrize(("count", "width", "seeds"), [(9, 3, 20), (20, 5, 20), (70, 6, 2), (130, 9, 1)])
def test_the_bound_is_what_its_words_say_also_past_a_word_of_bits(count: int, width: int, seeds: int) -> None:
    for seed in range(seeds):
        house = stacks_of(count, width, seed)
        yard = yard_in(house)
        assert Bound(yard).beyond(yard.start).tolist() == [plain_bound(house)]
