"""Costs worked by hand."""

from __future__ import annotations

import pytest
from small_house import hut, lean, pack, pile, plan_of, room

from packseq.check import replay
from packseq.check.cost import Cost
from packseq.plan.model import StageResult
from packseq.scenario.model import StandChoices


def test_a_hut_worked_by_hand() -> None:
    """Pack A at (6000, -4000), pile P at (0, -4000), drops at the middles of the lines.

    | move           | empty                                 | loaded                                  |
    | W1 aside       | 0, the chain begins here              | A-P 6000                                |
    | S1 (3000, 0)   | P-A 6000                              | sqrt(3000^2 + 4000^2) = 5000            |
    | E1 (6000, 4000)| S1-A 5000                             | 8000                                    |
    | N1 (3000, 8000)| E1-A 8000                             | sqrt(3000^2 + 12000^2) = 12369.3: 12369 |
    | W1 (0, 4000)   | N1-P sqrt(3000^2 + 12000^2) = 12369.3 | 8000                                    |
    """
    house = hut(spots=(pile(),), masses={"N1": 80.0})
    done = replay(house, plan_of(house, "W1>P S1 E1 N1 W1"))
    # 60 kg / 25 = 2.4, so 3 people; 80 / 25 = 3.2, so 4.
    assert [(legs.empty_mm, legs.loaded_mm, legs.people) for legs in done.walked] == [
        (0, 6000, 3),
        (6000, 5000, 3),
        (5000, 8000, 3),
        (8000, 12369, 4),
        (12369, 8000, 3),
    ]
    assert done.cost == Cost(
        extra_lifts=1,
        extra_lifts_by_pack={"A": 1},
        walking_mm=70_738,  # 6000 + 11000 + 13000 + 20369 + 20369
        person_mm=232_583,  # 3 x (70738 - 20369) + 4 x 20369 = 151107 + 81476
        breaks=0,
    )
    assert done.violations == ()


def test_every_set_aside_is_an_extra_lift_of_the_pack_it_came_in() -> None:
    two = (
        pack("A", (6000, -4000), (("W1",), ("S1",))),
        pack("B", (0, -4000), (("N1",), ("E1",)), holds=5),
    )
    house = hut(packs=two, spots=(lean(),), stand=StandChoices(lap="free"))
    done = replay(house, plan_of(house, "W1>B+ S1 W1>L N1>L E1 N1 W1"))
    assert done.violations == ()
    assert done.cost.extra_lifts_by_pack == {"A": 2, "B": 1}
    assert done.cost.extra_lifts == 3


def test_a_break_is_two_stands_in_a_row_that_do_not_touch() -> None:
    house = room(stand=StandChoices(lap="both-ways"))
    done = replay(house, plan_of(house, "S1 S2 E1 W2 W1 N2 N1 I1 E2"))
    # E1-W2 and I1-E2 do not touch; W2-W1-N2-N1-I1 each do.
    assert done.cost.breaks == 2
    assert done.held_open == ("E2",)
    assert done.violations == ()


def test_a_declared_gap_is_no_break() -> None:
    apart = room(untouching=frozenset({"E1", "E2"}))
    together = room()
    order = "S1 S2 E1 E2 N1 N2 W1 W2 I1"
    # I1 touches S2 and N1, not W2: one break either way.
    assert replay(apart, plan_of(apart, order)).cost.breaks == 2
    assert replay(together, plan_of(together, order)).cost.breaks == 1


def test_lift_worth_merges_lifts_and_walking() -> None:
    house = hut(spots=(pile(),), stand=StandChoices(lift_worth_m=12.5))
    plan = plan_of(house, "W1>P S1 E1 N1 W1")
    # 1 extra lift x 12.5 m = 12500 mm, and 70738 mm of walking.
    right = StageResult(name="cost_mm", value=83_238, bound=83_238, status="optimal")
    wrong = right.model_copy(update={"value": 83_239, "status": "best found"})
    assert replay(house, plan.model_copy(update={"stages": (right,)})).violations == ()
    (found,) = replay(house, plan.model_copy(update={"stages": (wrong,)})).violations
    assert found.text == "cost_mm truly 83238, the plan says 83239"


def test_state_after_each_move() -> None:
    house = hut(spots=(pile(),))
    done = replay(house, plan_of(house, "W1>P S1 E1 N1 W1"))
    pack_a, spot = done.job.heap(pack="A", spot=None), done.job.heap(pack=None, spot="P")
    assert pack_a is not None
    assert spot is not None
    assert done.state_after(0).lying(pack_a) == ("W1", "S1", "E1", "N1")
    after_two = done.state_after(2)
    assert (after_two.lying(pack_a), after_two.lying(spot), after_two.stood) == (
        ("E1", "N1"),
        ("W1",),
        ("S1",),
    )
    assert done.state_after(5).stood == ("S1", "E1", "N1", "W1")
    assert tuple(done.states())[1] == after_two
    with pytest.raises(IndexError):
        done.state_after(6)


def test_what_stands_is_walked_round() -> None:
    # Pack A at (1000, -3000). S1, 90 mm thick, stands along y = 0 from x = 0 to 6000.
    house = hut(packs=(pack("A", (1000, -3000), (("S1", "E1", "N1", "W1"),)),), solid=True)
    first, second, third, _ = replay(house, plan_of(house, "S1 E1 N1 W1")).walked
    assert (first.empty, first.loaded_mm) == (None, 3606)  # sqrt(2000^2 + 3000^2) = 3605.6
    assert second.empty_mm == 3606
    # E1 goes round the end of S1: sqrt(5000^2 + 2955^2) + 4045 = 5807.9 + 4045 = 9852.9, not straight,
    # sqrt(5000^2 + 7000^2) = 8602.3. The team comes back the same way, along the line of E1.
    assert second.loaded is not None
    assert (second.loaded.mm, third.empty_mm) == (9853, 9853)
    assert second.loaded.points[:2] == ((1000, -3000), (6000, -45))


def test_a_leg_without_a_way_walks_nothing() -> None:
    walls = room(solid=True)
    order = "S1 S2 E1 E2 N1 N2 W1 W2 I1"
    done = replay(walls, plan_of(walls, order))
    # The room is shut when I1 comes.
    assert done.walked[-1].loaded is None
    assert done.walked[-1].walking_mm == done.walked[-1].empty_mm
    assert {(each.rule, each.move_number) for each in done.violations} == {("way-in", 9)}
