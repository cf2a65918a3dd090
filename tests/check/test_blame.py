"""Extra lifts and the frames beneath that were wanted first, on packs small enough to see through."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from small_house import hut, lean, pack, pile, plan_of, steps

from packseq.check import Replay, replay
from packseq.check.blame import blamed
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.build import build_plan
from packseq.scenario.read import read_scenario

GARDEN = Path(__file__).parents[2] / "scenarios" / "garden-room"

BY_HAND = "N2>S1 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3"
"""The plan in the garden room's note. From the top the pack holds N2, E5, E4, E2, E1, N1, E6, E3."""


def garden(layers: str | None = None) -> House:
    house = derive_house(read_scenario(GARDEN))
    if layers is None:
        return house
    old = house.scenario.packs["A"]
    packs = {"A": replace(old, layers=tuple((name,) for name in layers.split()))}
    return replace(house, scenario=replace(house.scenario, packs=packs))


def replayed(house: House, text: str) -> Replay:
    scenario = house.scenario
    places = {name: each.places[0] for name, each in scenario.packs.items()}
    done = replay(house, build_plan(house, steps(text), spots=scenario.spots, places=places))
    assert done.kept, done.violations
    return done


def test_the_garden_room_by_hand() -> None:
    found = blamed(replayed(garden(), BY_HAND))
    assert [(each.frame, each.wanted_first, each.below) for each in found] == [
        ("N2", ("E5", "E4", "E2", "E1", "N1", "E6"), "E6"),  # only E3 is stood after N2
        ("E5", ("E2", "E1", "E6"), "E6"),
        ("E4", ("E2", "E1", "E6"), "E6"),
        ("N1", ("E6",), "E6"),
    ]
    assert [(each.move_number, each.pack, each.lay_on, each.saves) for each in found] == [
        (1, "A", "pack A", 1),
        (2, "A", "pack A", 1),
        (3, "A", "pack A", 1),
        (6, "A", "pack A", 1),
    ]


def test_loaded_below_the_frame_named_it_stays_in_the_pack() -> None:
    # N1 moved below E6, and the same order stood without setting it aside.
    before = replayed(garden(), BY_HAND)
    after = replayed(garden("N2 E5 E4 E2 E1 E6 N1 E3"), "N2>S1 E5>S2 E4>S2 E2 E1 E6 E5 E4 N1 N2 E3")
    (saved,) = [each.saves for each in blamed(before) if each.frame == "N1"]
    assert before.cost.extra_lifts - after.cost.extra_lifts == saved == 1
    assert [each.frame for each in blamed(after)] == ["N2", "E5", "E4"]


def test_a_frame_in_the_way_on_a_pile_is_no_fault_of_the_pack() -> None:
    # W1 and N1 go on the pile; W1, the first down, is wanted first, so N1 is set aside once more.
    house = hut((("W1",), ("N1",), ("S1",), ("E1",)), spots=(pile(), lean(at=(9000, -4000))))
    done = replay(house, plan_of(house, "W1>P N1>P S1 N1>L W1 N1 E1"))
    assert done.kept, done.violations
    first, once, again = blamed(done)
    assert (first.frame, first.wanted_first, first.saves) == ("W1", ("S1",), 1)
    # Loaded below S1, neither set-aside of N1 would be needed: it saves two.
    assert (once.frame, once.below, once.saves) == ("N1", "S1", 2)
    assert (again.lay_on, again.wanted_first) == ("spot P", ("W1",))
    assert (again.below, again.saves) == (None, None)


def test_from_a_lean_any_frame_comes_off() -> None:
    house = hut((("W1",), ("S1",), ("E1",), ("N1",)), spots=(lean(), pile(at=(9000, -4000))))
    done = replay(house, plan_of(house, "W1>L W1>P S1 E1 N1 W1"))
    assert done.kept, done.violations
    assert blamed(done)[1].wanted_first == ()


def test_packs_come_in_the_order_of_the_site_file() -> None:
    packs = (pack("B", (6000, -4000), [["W1"], ["S1"]]), pack("A", (0, -4000), [["N1"], ["E1"]]))
    house = hut(packs=packs, spots=(lean(at=(20000, 0)),))
    done = replay(house, plan_of(house, "N1>L W1>L S1 E1 N1 W1"))
    assert done.kept, done.violations
    assert [(each.pack, each.frame) for each in blamed(done)] == [("B", "W1"), ("A", "N1")]


def test_nothing_set_aside_is_nothing_blamed() -> None:
    house = hut((("S1",), ("E1",), ("N1",), ("W1",)))
    assert blamed(replay(house, plan_of(house, "S1 E1 N1 W1"))) == ()
