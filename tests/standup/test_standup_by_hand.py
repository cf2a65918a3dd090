"""Optima worked by hand: the garden room, and straight walls whose extra lifts are known from elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from small_house import frame, house_of, lean, pack, plan_of
from standup_jobs import checked, demo, stages, told

from packseq.check import replay
from packseq.errors import NoPlanError
from packseq.house.model import House, LevelHouse
from packseq.scenario.model import StandChoices
from packseq.standup.search import plan_standup


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


# scenarios/garden-room/NOTE.md, leg by leg: what is lifted, the walk there and the way with the frame, in mm.
#   N2>S2   1000, 4000              4123       stand E6  2955, 4090 straight, by the slider       5046
#   stand E2, E1  1500, 2045        2536       stand E5  from S2 500, 2135                        2193
#   N1>S1   3000, 2000 + 1700, 2000:           stand E4  from S2 2500, 2135                       3288
#           3605.55 + 2624.88       6230       stand N1  to S1 3200, 2135 3847; from it 3635, 90  3636
#   stand N2  to S2 2065, 90 2067; from it 600, 2000 + 3400 + 90 + 990, 2000:
#           2088.06 + 3400 + 90 + 2231.61                                                         7810
#   stand E3  to the pack 2410, 2000 + 90 + 400, 2000: 3131.79 + 90 + 2039.61                     5261
#           from it 3000, 2000 + 90 + 45, 2000: 3605.55 + 90 + 2000.51                            5696
GARDEN_STEPS = "N2>S2 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3"
GARDEN_EMPTY = [0, 4123, 4123, 4123, 2536, 2536, 6230, 1957, 2193, 3847, 2067, 5261]
GARDEN_LOADED = [4123, 4123, 4123, 2536, 2536, 6230, 5046, 2193, 3288, 3636, 7810, 5696]


def test_the_legs_of_a_garden_room_plan_add_up_to_its_walking() -> None:
    house = demo("garden-room")
    done = replay(house, plan_of(house, GARDEN_STEPS))
    assert done.violations == ()
    assert [each.empty_mm for each in done.walked] == GARDEN_EMPTY
    assert [each.loaded_mm for each in done.walked] == GARDEN_LOADED
    assert sum(GARDEN_EMPTY) + sum(GARDEN_LOADED) == 38_996 + 51_340 == 90_336
    out_and_round = done.walked[10].loaded
    assert out_and_round is not None
    assert out_and_round.points == ((2000, 2000), (2600, 0), (6000, 0), (6000, 90), (5010, 2090))


def test_holding_a_frame_of_the_garden_room_open_saves_nine_metres() -> None:
    # The same note: 99,122 mm with the room closed before the internal frames come in.
    house = demo("garden-room")
    stand = replace(house.scenario.stand, hold_open=0)
    plan = plan_standup(replace(house, scenario=replace(house.scenario, stand=stand)), limit_s=60)
    assert [(stage.value, stage.status) for stage in plan.stages[:2]] == [(4, "optimal"), (99_122, "optimal")]


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
