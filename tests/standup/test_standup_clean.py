"""Packs that unpack clean: found just where trying everything finds a plan without extra lifts."""

from __future__ import annotations

from dataclasses import replace
from types import MappingProxyType

from drawn_houses import houses
from hypothesis import HealthCheck, given, settings
from oracle import Lap, Oracle
from small_house import hut, pack

from packseq.check import replay
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.routes.engine import build_routes
from packseq.standup.clean import unpacked_clean
from packseq.standup.jobs import all_jobs
from packseq.standup.search import plan_standup


def laid_in_order(house: House) -> House:
    """Return the house with its packs laid up in the order of its best plan, as far as it has one."""
    best = Oracle(house, once=True).best()
    if best is None:
        return house
    stood = [text for text in best.moves if text in house.scenario.frames]
    packs = {
        name: replace(
            pack,
            layers=tuple((frame,) for frame in sorted(pack.frames, key=stood.index)),
            layer_numbers=tuple(range(1, len(pack.frames) + 1)),
        )
        for name, pack in house.scenario.packs.items()
    }
    return replace(house, scenario=replace(house.scenario, packs=MappingProxyType(packs)))


def hold_against_the_oracle(house: House) -> int:
    """Return in how many directions the packs unpack clean."""
    clean = 0
    routes = build_routes(house.scenario)
    for job in all_jobs(house):
        order = unpacked_clean(job, routes)
        best = Lap(Oracle(house, spots=(), pack_tops=False), job.direction).best()
        assert (order is not None) == (best is not None), (job.direction, order, best)
        if order is not None:
            clean += 1
            steps = [Step("stand", name) for name in order]
            done = replay(house, build_plan(house, steps, spots=job.spots, places=job.places, routes=routes))
            assert done.kept
            assert done.cost.extra_lifts == 0
    return clean


@settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(houses())
def test_clean_packs_are_found_where_there_are_any(house: House) -> None:
    hold_against_the_oracle(house)
    hold_against_the_oracle(laid_in_order(house))


def test_a_clean_pack_by_hand() -> None:
    # Anticlockwise the hut goes S1, E1, N1, W1, clockwise S1, W1, N1, E1: laid so from the top it unpacks
    # clean in one of the two, with W1 on S1 in neither.
    assert hold_against_the_oracle(hut((("S1",), ("E1",), ("N1",), ("W1",)))) == 1
    assert hold_against_the_oracle(hut((("S1",), ("W1", "E1"), ("N1",)))) == 0
    assert hold_against_the_oracle(hut((("S1",), ("W1", "E1", "N1")))) == 2
    assert hold_against_the_oracle(hut((("W1",), ("S1",), ("E1",), ("N1",)))) == 0


def test_a_pack_on_a_line_must_be_gone_first() -> None:
    # The pack lies across N1's line, 6 m off S1: N1 is stood when nothing but itself lay there still.
    layers = (("S1",), ("E1",), ("W1",), ("N1",))
    both = replace(hut().scenario.stand, lap="both-ways")
    assert (
        hold_against_the_oracle(hut(packs=(pack("A", (3000, 7500), layers, length_mm=4000),), stand=both))
        == 2
    )
    last = (("S1",), ("E1",), ("N1",), ("W1",))
    assert (
        hold_against_the_oracle(hut(packs=(pack("A", (3000, 7500), last, length_mm=4000),), stand=both)) == 0
    )


def test_the_plan_of_clean_packs_is_known_before_any_search() -> None:
    house = hut((("S1",), ("E1",), ("N1",), ("W1",)))
    plan = plan_standup(house, limit_s=0.0)
    assert replay(house, plan).cost.extra_lifts == 0
    assert plan.stages[0].status == "optimal"
