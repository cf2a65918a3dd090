"""Each rule about lifting and putting down: a plan that just keeps it and one that just breaks it."""

from __future__ import annotations

from dataclasses import replace

from small_house import broken, hut, lean, pack, pile, two_floors

from packseq.house.model import House
from packseq.scenario.model import StandChoices

FREE = StandChoices(lap="free")


def test_top_of_pack_wants_the_layers_above_gone() -> None:
    house = hut(spots=(pile(),))
    assert broken(house, "W1>P S1 E1 N1 W1") == set()
    assert broken(house, "S1 E1 N1 W1") == {("top-of-pack", number) for number in (1, 2, 3)}


def test_top_of_pack_lets_frames_of_one_layer_go_in_any_order() -> None:
    house = hut((("N1", "S1"), ("W1", "E1")), stand=FREE)
    assert broken(house, "S1 N1 E1 W1") == {("joined", 2)}
    assert broken(hut((("E1", "S1"), ("W1", "N1"))), "S1 E1 N1 W1") == set()


def test_top_of_pack_counts_what_was_put_on_top() -> None:
    two_packs = (
        pack("A", (6000, -4000), (("W1",), ("S1",))),
        pack("B", (0, -4000), (("E1",), ("N1",)), holds=2),
    )
    house = hut(packs=two_packs, stand=FREE)
    assert broken(house, "W1>B+ S1 W1 E1 N1") == set()
    assert broken(house, "W1>B+ S1 E1 W1 N1") == {("top-of-pack", 3)}


def test_spot_room_counts_the_frames_on_a_spot() -> None:
    order = "W1>P S1>P S1 E1 N1 W1"
    assert broken(hut(spots=(pile(holds=2),)), order) == set()
    assert broken(hut(spots=(pile(holds=1),)), order) == {("spot-room", 2)}


def test_spot_room_measures_length_to_the_millimetre() -> None:
    order = "W1>P S1 E1 N1 W1"  # W1 is 8000 mm long
    long_enough = replace(pile(), size_mm=(8000, 2400))
    too_short = replace(pile(), size_mm=(7999, 2400))
    assert broken(hut(spots=(long_enough,)), order) == set()
    assert broken(hut(spots=(too_short,)), order) == {("spot-room", 1)}


def test_spot_room_measures_height_in_a_pile_but_not_in_a_lean() -> None:
    low_pile = replace(pile(), size_mm=(8000, 2399))  # the frames are 2400 mm tall
    low_lean = replace(lean("P"), size_mm=(8000, 2399))
    order = "W1>P S1 E1 N1 W1"
    assert broken(hut(spots=(low_pile,)), order) == {("spot-room", 1)}
    assert broken(hut(spots=(low_lean,)), order) == set()


def test_spot_room_takes_only_the_last_one_off_a_pile_and_any_off_a_lean() -> None:
    layers = (("W1",), ("N1",), ("S1",), ("E1",))
    last_on_first_off = "W1>P N1>P S1 E1 N1 W1"
    first_on_first_off = "N1>P W1>P S1 E1 N1 W1"
    assert broken(hut(layers, spots=(pile(),)), last_on_first_off) == set()
    assert broken(hut((("N1",), ("W1",), *layers[2:]), spots=(pile(),)), first_on_first_off) == {
        ("spot-room", 5)
    }
    assert broken(hut((("N1",), ("W1",), *layers[2:]), spots=(lean("P"),)), first_on_first_off) == set()


def test_spot_room_keeps_a_spot_to_its_level() -> None:
    lower, upper = pile("P"), pile("Q", (-5000, 4000), level=2)
    house = two_floors(spots=(lower, upper))
    order = "S1 W1 N1 E1 UW1>{} US1 UW1 UN1 UE1"
    assert broken(house, order.format("Q")) == set()
    assert broken(house, order.format("P")) == {("spot-room", 5)}


def test_spot_room_keeps_the_top_of_a_pack_to_its_level() -> None:
    house = two_floors(spots=(pile("Q", (-5000, 4000), level=2),))
    packs = house.scenario.packs
    low, high = replace(packs["A"], holds=9), replace(packs["B"], holds=9)
    open_topped = replace(house, scenario=replace(house.scenario, packs={"A": low, "B": high}))
    order = "W1>B+ S1 E1 N1 W1 UW1>Q US1 UE1 UN1 UW1"
    assert broken(open_topped, order) == {("spot-room", 1)}
    assert broken(open_topped, order.removeprefix("W1>B+ ")) == set()


def test_spot_room_lets_a_pack_take_one_more_only_while_it_is_low_enough() -> None:
    def house(holds: int) -> House:
        top = pack("A", (6000, -4000), (("W1",), ("S1",)))
        low = pack("B", (0, -4000), (("E1",), ("N1",)), holds=holds)
        return hut(packs=(top, low), stand=FREE)

    order = "W1>B+ S1 W1 E1 N1"  # B has two layers when W1 comes
    assert broken(house(2), order) == set()
    assert broken(house(1), order) == {("spot-room", 1)}
    assert broken(house(0), order) == {("spot-room", 1)}


def test_spot_room_takes_none_on_a_pack_that_holds_none_even_when_it_is_empty() -> None:
    top = pack("A", (6000, -4000), (("S1",), ("W1",), ("N1",)))
    for holds, expected in ((1, set()), (0, {("spot-room", 3)})):
        house = hut(packs=(top, pack("B", (0, -4000), (("E1",),), holds=holds)), stand=FREE)
        assert broken(house, "S1 E1 W1>B+ N1 W1") == expected


def test_spot_room_lets_a_frame_come_back_to_the_pack_it_came_in_but_not_straight_from_it() -> None:
    packs = (pack("A", (6000, -4000), (("S1", "W1"), ("E1",), ("N1",)), holds=9),)
    house = hut(packs=packs, spots=(pile(),), stand=FREE)
    assert broken(house, "S1 W1>P W1>A+ W1 E1 N1") == set()
    # W1 lies on top either way, so E1 is lifted from under it as well.
    assert broken(house, "S1 W1>A+ E1 N1 W1") == {
        ("spot-room", 2),
        ("top-of-pack", 3),
        ("top-of-pack", 4),
    }


def test_spot_room_does_not_count_the_frame_that_is_in_the_air() -> None:
    # Pointless, but lifted off and put back where it lay: P is empty when W1 comes down again.
    house = hut((("W1",), ("S1",), ("E1",), ("N1",)), spots=(pile(holds=1),), stand=FREE)
    assert broken(house, "W1>P W1>P S1 W1 E1 N1") == set()


def test_crew_lift_wants_one_for_every_25_kg() -> None:
    # 100 / 25 = 4 people, 100.1 / 25 = 4.004, so 5.
    order = "W1>P S1 E1 N1 W1"
    assert broken(hut(spots=(pile(),), masses={"E1": 100.0}), order) == set()
    assert broken(hut(spots=(pile(),), masses={"E1": 100.1}), order) == {("crew-lift", 3)}
    assert broken(hut(spots=(pile(),), masses={"E1": 100.1}, people=5), order) == set()
