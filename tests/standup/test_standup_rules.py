"""Each rule of the model, alone, at its edge: steps that it just takes and steps that it just refuses."""

from __future__ import annotations

import pytest
from small_house import HUT_ROUND, hut, lean, pack, pile, room, site_wall, two_floors
from standup_jobs import allows

from packseq.scenario.model import Lap, Spot, StandChoices

ROUND = "S1 S2 E1 E2 N1 N2 W1 W2 I1"
STACKED = (("W1",), ("N1",), ("E1",), ("S1",))


def test_reference_first_takes_the_wall_from_its_end_and_nothing_before_its_last_frame() -> None:
    house = room(stand=StandChoices(lap="free"))
    assert allows(house, "reference-first", "S1 S2 W2 E1 E2 N1 N2 W1 I1")
    assert not allows(house, "reference-first", "S1 W2 S2 E1 E2 N1 N2 W1 I1")
    assert not allows(house, "reference-first", "S2 S1 W2 E1 E2 N1 N2 W1 I1")
    assert allows(house, "reference-first", "S2 S1 W2 E1 E2 N1 N2 W1 I1", "clockwise")


@pytest.mark.parametrize(
    ("lap", "text", "taken"),
    [
        ("one-way", ROUND, True),
        ("one-way", "S1 S2 E1 E2 N1 N2 W2 W1 I1", False),
        ("both-ways", "S1 S2 E1 W2 E2 W1 N2 N1 I1", True),
        ("both-ways", "S1 S2 E1 W2 N1 E2 W1 N2 I1", False),  # N1 away from E1 and W2
        ("both-ways", "S1 S2 W2 W1 N2 N1 E2 E1 I1", True),  # all of it back the other way
        ("free", "S1 S2 E1 W2 N1 E2 W1 N2 I1", True),
    ],
)
def test_lap_order_at_its_edge(lap: Lap, text: str, taken: bool) -> None:
    assert allows(room(stand=StandChoices(lap=lap)), "lap-order", text) == taken


def test_lap_order_goes_on_in_the_direction_of_the_wall() -> None:
    assert allows(room(), "lap-order", "S2 S1 W2 W1 N2 N1 E2 E1 I1", "clockwise")
    assert not allows(room(), "lap-order", "S2 S1 E1 E2 N1 N2 W1 W2 I1", "clockwise")


def test_lap_order_on_a_site_wall_runs_from_one_end() -> None:
    assert allows(site_wall(), "lap-order", "A1 A2 A3")
    assert not allows(site_wall(), "lap-order", "A1 A3 A2")


def test_joined_wants_a_standing_neighbour_for_every_frame_but_the_first() -> None:
    free = room(stand=StandChoices(lap="free"))
    # N1 touches E2, N2 and I1; I1 touches S2 and N1.
    assert allows(free, "joined", "S1 S2 I1 N1 E1 E2 N2 W1 W2")
    assert not allows(free, "joined", "S1 S2 N1 I1 E1 E2 N2 W1 W2")
    parted = room(stand=StandChoices(lap="free"), untouching=frozenset({"S2", "E1"}))
    assert not allows(parted, "joined", ROUND)
    assert allows(parted, "joined", "S1 S2 I1 N1 E2 E1 N2 W1 W2")


def test_joined_lets_each_level_begin_with_nothing_to_touch() -> None:
    assert allows(two_floors(), "joined", "S1 E1 N1 W1 US1 UE1 UN1 UW1")
    assert not allows(two_floors(), "joined", "S1 E1 N1 W1 US1 UN1 UE1 UW1")


@pytest.mark.parametrize(
    ("hold_open", "text", "taken"),
    [
        (0, ROUND, True),
        (0, "S1 S2 E1 E2 N1 N2 W1 I1 W2", False),
        (1, "S1 S2 E1 E2 N1 N2 W1 I1 W2", True),
        (1, "S1 S2 E1 E2 N1 N2 I1 W1 W2", False),
        (2, "S1 S2 E1 E2 N1 N2 I1 W1 W2", True),
        (9, "S1 S2 I1 E1 E2 N1 N2 W1 W2", True),
        (9, "S1 I1 S2 E1 E2 N1 N2 W1 W2", False),  # never a frame of the reference wall
    ],
)
def test_perimeter_first_at_its_edge(hold_open: int, text: str, taken: bool) -> None:
    for lap in ("one-way", "both-ways", "free"):
        house = room(stand=StandChoices(lap=lap, hold_open=hold_open))
        assert allows(house, "perimeter-first", text) == taken


def test_perimeter_first_is_off_when_internals_may_come_any_time() -> None:
    house = room(stand=StandChoices(internals_any_time=True))
    assert allows(house, "perimeter-first", "I1 S1 S2 E1 E2 N1 N2 W1 W2")


def test_top_of_pack_lifts_from_the_top_only() -> None:
    house = hut(spots=(pile(),))  # from the top W1, S1, E1, N1
    assert allows(house, "top-of-pack", "W1>P S1 E1 N1 W1")
    assert not allows(house, "top-of-pack", "S1 W1 E1 N1")
    assert not allows(house, "top-of-pack", "S1 W1>P E1 W1 N1")


def test_top_of_pack_takes_a_shared_layer_in_any_order() -> None:
    house = hut((("W1", "S1"), ("E1", "N1")), spots=(pile(),))
    assert allows(house, "top-of-pack", "S1 W1 N1 E1")
    assert allows(house, "top-of-pack", "W1 S1 E1 N1")
    assert not allows(house, "top-of-pack", "W1 E1 S1 N1")


def test_spot_room_never_has_more_than_a_spot_holds() -> None:
    text = "W1>P N1>P E1>P S1 E1 N1 W1"
    assert allows(hut(STACKED, spots=(pile(holds=3),)), "spot-room", text)
    assert not allows(hut(STACKED, spots=(pile(holds=2),)), "spot-room", text)


@pytest.mark.parametrize("spot", [pile(holds=1), lean("P", holds=1)])
def test_spot_room_is_free_again_when_a_frame_has_left(spot: Spot) -> None:
    house = hut(STACKED, spots=(spot,))
    assert allows(house, "spot-room", "W1>P S1 W1 N1>P E1 N1")
    assert not allows(house, "spot-room", "W1>P S1 N1>P W1 E1 N1")


def test_spot_room_takes_the_last_one_down_from_a_pile_and_any_from_a_lean() -> None:
    last, first = "W1>P N1>P S1 E1 N1 W1", "W1>P N1>P S1 E1 W1 N1"
    assert allows(hut(STACKED, spots=(pile(),)), "spot-room", last)
    assert not allows(hut(STACKED, spots=(pile(),)), "spot-room", first)
    assert allows(hut(STACKED, spots=(lean("P"),)), "spot-room", first)


def test_spot_room_takes_no_frame_longer_or_lying_flat_taller_than_the_spot() -> None:
    # W1 is 8000 mm long and 2400 mm high.
    for size, kind, taken in (
        ((8000, 2400), "pile", True),
        ((7999, 2400), "pile", False),
        ((8000, 2399), "pile", False),
        ((8000, 1000), "lean", True),
        ((7999, 1000), "lean", False),
    ):
        spot = Spot("P", 1, (0, -4000), 0.0, size, "pile" if kind == "pile" else "lean", 1)
        frame = hut(spots=(spot,)).scenario.frames["W1"]
        assert spot.takes(frame) == taken


def test_crew_lift_wants_a_crew_as_large_as_the_team() -> None:
    # 100 kg at 25 kg each: 4 people; 100.1 kg: 5.
    order = " ".join(HUT_ROUND)
    assert allows(hut((HUT_ROUND,), masses={"N1": 100.0}), "crew-lift", order)
    assert not allows(hut((HUT_ROUND,), masses={"N1": 100.1}), "crew-lift", order)


def test_level_order_lifts_nothing_of_a_level_before_those_below_stand() -> None:
    house = two_floors(spots=(pile("Q", (-5000, 4000), level=2),))
    assert allows(house, "level-order", "S1 E1 N1 W1 UW1>Q US1 UE1 UN1 UW1")
    assert not allows(house, "level-order", "S1 E1 N1 UW1>Q W1 US1 UE1 UN1 UW1")


def test_level_order_leaves_a_lower_level_its_own_order() -> None:
    house = two_floors()
    assert allows(house, "level-order", "W1 N1 E1 S1 UW1 UN1 UE1 US1")
    assert not allows(house, "level-order", "W1 N1 E1 UW1 S1 UN1 UE1 US1")


def test_no_rule_alone_refuses_what_it_does_not_speak_of() -> None:
    packs = (pack("A", (6000, -4000), (("W1",), ("S1",))), pack("B", (0, 9000), (("E1",), ("N1",))))
    house = hut(packs=packs, spots=(pile(),), stand=StandChoices(lap="free"))
    for rule in ("crew-lift", "level-order", "perimeter-first", "lap-order"):
        assert allows(house, rule, "N1 S1 E1 W1")
