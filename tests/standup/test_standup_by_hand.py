"""Optima worked by hand: the garden room, and straight walls whose extra lifts are known from elsewhere."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from small_house import frame, house_of, lean, pack
from standup_jobs import checked, demo, stages, told

from packseq.errors import NoPlanError
from packseq.house.model import House, LevelHouse
from packseq.scenario.model import StandChoices
from packseq.standup.search import plan_standup

GARDEN_PACK = (3000, -2000)
GARDEN_PILE = (7700, 2000)
GARDEN_LEAN = (2000, 2000)
GARDEN_MIDDLES = {
    "E1": (1500, 45),
    "E2": (4500, 45),
    "E3": (5955, 2090),
    "E4": (4500, 4135),
    "E5": (1500, 4135),
    "E6": (45, 2090),
    "N1": (4065, 2090),
    "N2": (5010, 2090),
}


def test_the_garden_room_is_proven_whole_at_four_extra_lifts() -> None:
    # scenarios/garden-room/NOTE.md: clockwise 3 frames on E2 and N1 on E6 must wait, 4 in all.
    plan = plan_standup(demo("garden-room"), limit_s=60)
    done = checked(demo("garden-room"), plan)
    assert (plan.status, plan.direction) == ("optimal", "clockwise")
    assert (done.cost.extra_lifts, done.cost.walking_mm) == (4, 90_336)


def test_the_garden_room_needs_six_extra_lifts_the_other_way_round() -> None:
    # The same note: anticlockwise 4 frames on E1, and N1 and E6 on E3.
    house = told(demo("garden-room"), "anticlockwise")
    plan = plan_standup(house, limit_s=60)
    checked(house, plan)
    assert stages(plan)["extra lifts"].model_dump(exclude={"name"}) == {
        "value": 6,
        "bound": 6,
        "status": "optimal",
    }


def test_the_legs_of_a_garden_room_plan_add_up_to_its_walking() -> None:
    # One best plan by hand: N2, E5, E4 to the lean; E2, E1; N1 to the pile; E6; E5, E4 from the lean;
    # E3; N1 from the pile; N2 from the lean. Its points, and the legs between them in whole mm:
    #   pack-lean          (1000, 4000)   4123, five times: there, back, there, back, there = 20615
    #   lean-pack                         4123                                              =  4123
    #   pack-E2, back      (1500, 2045)   2536, twice                                       =  5072
    #   pack-E1, back      (1500, 2045)   2536, twice                                       =  5072
    #   pack-pile, back    (4700, 4000)   6172, twice                                       = 12344
    #   pack-E6            (2955, 4090)   5046                                              =  5046
    #   E6-lean            (1955, 90)     1957                                              =  1957
    #   lean-E5, back      (500, 2135)    2193, twice                                       =  4386
    #   lean-E4            (2500, 2135)   3288                                              =  3288
    #   E4-pack            (1500, 6135)   6316                                              =  6316
    #   pack-E3            (2955, 4090)   5046                                              =  5046
    #   E3-pile            (1745, 90)     1747                                              =  1747
    #   pile-N1            (3635, 90)     3636                                              =  3636
    #   N1-lean            (2065, 90)     2067                                              =  2067
    #   lean-N2            (3010, 90)     3011                                              =  3011
    # 20615 + 4123 + 5072 + 5072 + 12344 + 5046 + 1957 + 4386 = 58615;
    # 3288 + 6316 + 5046 + 1747 + 3636 + 2067 + 3011 = 25111; 58615 + 25111 = 83726
    middle, heap = GARDEN_MIDDLES, GARDEN_PACK
    points: list[tuple[int, int]] = []
    for source, target in (
        (heap, GARDEN_LEAN),
        (heap, GARDEN_LEAN),
        (heap, GARDEN_LEAN),
        (heap, middle["E2"]),
        (heap, middle["E1"]),
        (heap, GARDEN_PILE),
        (heap, middle["E6"]),
        (GARDEN_LEAN, middle["E5"]),
        (GARDEN_LEAN, middle["E4"]),
        (heap, middle["E3"]),
        (GARDEN_PILE, middle["N1"]),
        (GARDEN_LEAN, middle["N2"]),
    ):
        points += [source, target]
    assert sum(math.floor(math.dist(*leg) + 0.5) for leg in pairwise(points)) == 83_726
    scenario = demo("garden-room").scenario
    assert {name: each.middle for name, each in scenario.frames.items()} == GARDEN_MIDDLES
    assert scenario.packs["A"].places[0].at == GARDEN_PACK
    assert [spot.at for spot in scenario.spots.values()] == [GARDEN_PILE, GARDEN_LEAN]


def straight_wall(stacks: Sequence[Sequence[int]]) -> House:
    """Return a site wall stood in the order of its numbers, delivered in stacks written bottom to top."""
    names = [f"W{number}" for number in sorted(number for stacked in stacks for number in stacked)]
    frames = [frame(name, ((1000 * place, 0), (1000 * place + 1000, 0))) for place, name in enumerate(names)]
    packs = [
        pack(f"P{number}", (3000 * number, -4000), [(f"W{name}",) for name in reversed(stacked)])
        for number, stacked in enumerate(stacks)
        if stacked
    ]
    near = {
        name: tuple(names[other] for other in (place - 1, place + 1) if 0 <= other < len(names))
        for place, name in enumerate(names)
    }
    wall = LevelHouse(1, tuple(names), tuple(names), closed=False, internals=())
    stand = StandChoices(direction="anticlockwise")
    return house_of(frames, packs, (wall,), near, spots=(lean(holds=99, at=(0, -9000)),), stand=stand)


# Block relocation: blocks in stacks, written bottom to top, are fetched in the order of their numbers. Every
# block above a smaller one must be moved at least once: the lower bound of Kim and Hong (Computers and
# Operations Research 33, 2006; from memory). With room enough beside the stacks, once is enough. The first
# is file 1 of the 3x3 set of Caserta, Schwarze and Voss with its published bound, the second a published
# single stack; the others are files 39, 5 and 3 of that set. File 3 needs 2 moves where a moved block must go
# on another stack (a published optimum), 1 where there is room beside.
@pytest.mark.parametrize(
    ("stacks", "moves"),
    [
        (
            [[3, 7, 1], [2, 6, 5], [8, 9, 4]],
            4,
        ),  # 7 above 3, 6 and 5 above 2, 9 above 8; 1 and 4 above larger ones
        ([[1, 3, 2]], 2),
        ([[9, 8, 4], [5, 3, 2], [7, 6, 1]], 0),
        ([[9, 3, 2], [5, 6, 1], [8, 7, 4]], 1),
        ([[8, 1, 4], [7, 5, 2], [9, 6, 3]], 1),  # 4 above 1 and nothing else
    ],
)
def test_a_straight_wall_needs_as_many_extra_lifts_as_blocks_above_smaller_ones(
    stacks: Sequence[Sequence[int]], moves: int
) -> None:
    house = straight_wall(stacks)
    plan = plan_standup(house, limit_s=20)
    checked(house, plan)
    lifts = stages(plan)["extra lifts"]
    assert (lifts.value, lifts.bound, lifts.status) == (moves, moves, "optimal")


def test_a_wall_with_just_room_enough_for_its_bound_keeps_it_and_with_less_has_no_plan() -> None:
    # 3 and 2 lie on 1: both wait at once.
    house = straight_wall([[1, 3, 2]])

    def with_room_for(count: int) -> House:
        spots = {"L": lean(holds=count, at=(0, -9000))}
        return replace(house, scenario=replace(house.scenario, spots=spots))

    assert stages(plan_standup(with_room_for(2), limit_s=20))["extra lifts"].value == 2
    with pytest.raises(NoPlanError, match="spot-room"):
        plan_standup(with_room_for(1), limit_s=20)
