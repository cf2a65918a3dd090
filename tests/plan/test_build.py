"""From bare steps to a whole plan."""

from __future__ import annotations

from small_house import hut, lean, pack, pile, plan_of, room, steps

from packseq.plan.build import Step, build_plan
from packseq.plan.model import Where
from packseq.scenario.model import StandChoices


def test_why_names_the_frame_underneath_that_is_stood_next() -> None:
    house = hut((("W1",), ("N1",), ("S1",), ("E1",)), spots=(pile(), lean("L", (0, -8000))))
    plan = plan_of(house, "W1>P N1>P S1 E1 N1>L N1 W1")
    # N1 is lifted again off W1 in the pile, which is stood after it.
    assert [move.why for move in plan.moves if move.do == "set aside"] == ["above S1", "above S1", "above W1"]


def test_a_set_aside_with_nothing_underneath_has_no_reason() -> None:
    house = hut((("W1", "S1", "E1", "N1"),), spots=(lean(),))
    plan = plan_of(house, "W1>L E1>L W1>L S1 E1 N1 W1")
    assert [move.why for move in plan.moves if move.do == "set aside"] == [None, None, None]


def test_a_reason_that_is_given_is_kept() -> None:
    house = hut(spots=(pile(),))
    made = [Step("set aside", "W1", to_spot="P", why="out of the way"), *steps("S1 E1 N1 W1")]
    places = {"A": house.scenario.packs["A"].places[0]}
    plan = build_plan(house, made, spots=house.scenario.spots, places=places)
    assert plan.moves[0].why == "out of the way"


def test_a_frame_put_on_top_of_a_pack_lies_in_no_delivered_layer() -> None:
    packs = (
        pack("A", (6000, -4000), (("W1",), ("S1",))),
        pack("B", (0, -4000), (("E1",), ("N1",)), holds=2),
    )
    plan = plan_of(hut(packs=packs, stand=StandChoices(lap="free")), "W1>B+ S1 W1 E1 N1")
    assert plan.moves[0].to == Where(pack="B")
    assert plan.moves[0].why == "above S1"
    assert plan.moves[2].origin == Where(pack="B")
    assert plan.moves[3].origin == Where(pack="B", layer=1)


def test_direction_is_that_of_the_lap_or_of_the_wall() -> None:
    assert plan_of(room(), "S1 S2 E1 E2 N1 N2 W1 W2 I1").direction == "anticlockwise"
    assert plan_of(room(), "S2 S1 W2 W1 N2 N1 E2 E1 I1").direction == "clockwise"
    assert plan_of(room(), "S2 S1 E1 E2 N1 N2 W1 W2 I1").direction is None
    both = room(stand=StandChoices(lap="both-ways"))
    assert plan_of(both, "S2 S1 E1 E2 N1 N2 W1 W2 I1").direction == "clockwise"
