"""The check of a load at the edge of every rule, and just past it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from load_houses import SIX, landing, pack, six

from packseq.check.loading import broken_load_rules
from packseq.house.model import House
from packseq.plan.load import DeckLoad, LaidPack, Load
from packseq.scenario.loadlimits import Deck, LoadLimits

# Lengths: S1 3000, S2 2000, E1 4000, N1 4000, N2 1000, W1 4000; 60 kg, 90 mm thick and 2400 mm high each.
EVEN = {"N2": 20.0}
LONG_DOWN = "N2 S2 S1 E1 N1 W1"


def broken(house: House, *packs: LaidPack, decks: Sequence[DeckLoad] = ()) -> set[str]:
    load = Load(packs, tuple(decks))
    return {fault.rule for fault in broken_load_rules(house.scenario, load)}


def test_the_longest_at_the_bottom_keeps_every_rule() -> None:
    assert broken(six(), pack("A", LONG_DOWN)) == set()


@pytest.mark.parametrize(
    ("limits", "rule"),
    [
        (LoadLimits(most_kg=360.0), None),
        (LoadLimits(most_kg=359.9), "mass"),
        (LoadLimits(most_layers=6), None),
        (LoadLimits(most_layers=5), "height"),
        # 100 mm of bearers and six layers of 90 mm.
        (LoadLimits(most_height_mm=640.0), None),
        (LoadLimits(most_height_mm=639.0), "height"),
        (LoadLimits(longest_mm=4000.0), None),
        (LoadLimits(longest_mm=3999.0), "length"),
        (LoadLimits(widest_mm=2400.0), None),
        (LoadLimits(widest_mm=2399.0), "width"),
    ],
)
def test_limits_of_a_whole_pack(limits: LoadLimits, rule: str | None) -> None:
    assert broken(six(limits=limits), pack("A", LONG_DOWN)) == ({rule} if rule else set())


def test_a_landing_place_takes_its_own_mass() -> None:
    places = (landing("A", most_kg=300.0), landing("B"))
    assert broken(six(places=places), pack("A", "S1 E1 N1 W1 S2"), pack("B", "N2")) == {"support"}
    assert broken(six(places=places), pack("A", LONG_DOWN)) == {"mass"}


@pytest.mark.parametrize(("overhang_mm", "kept"), [(500.0, True), (499.0, False)])
def test_support_by_hand(overhang_mm: float, *, kept: bool) -> None:
    # S1, 3000 long, on S2, 2000 long, both centred: (3000 - 2000) / 2 = 500 mm past S2 at each end.
    house = six(limits=LoadLimits(overhang_mm=overhang_mm))
    assert broken(house, pack("A", "N2 S1 S2 E1 N1 W1")) == (set() if kept else {"support"})


def test_support_counts_any_layer_beneath() -> None:
    # N1 on S1 reaches (4000 - 3000) / 2 = 500 mm past it, and (4000 - 2000) / 2 = 1000 mm past S2 below that.
    steps = pack("A", "N1 S1 S2 E1 W1 N2")
    one_step = LoadLimits(overhang_mm=999.0)
    assert "support" in broken(six(limits=one_step), pack("A", "N1 S1 S2 N2"), pack("B", "E1 W1"))
    assert broken(six(limits=replace(one_step, overhang_mm=1500.0)), steps) == set()


def test_frames_end_to_end_carry_as_one() -> None:
    # S1 and N2 end to end are 4000 mm long: E1 on them reaches past nothing.
    # S1 pulls the row by 60 x -500, N2 by 20 x 1500: it is balanced.
    assert broken(six(masses=EVEN), pack("A", "S2 E1 S1+N2 N1 W1")) == set()
    # S1 alone is 3000: 500 mm.
    assert broken(six(), pack("A", "N2 S2 E1 S1 N1 W1")) == {"support"}


def test_a_row_carries_only_as_wide_as_its_lowest_frame() -> None:
    # N2 is 1600 high: E1, 2400 across, reaches (2400 - 1600) / 2 = 400 mm past it to each side.
    house = six(masses=EVEN, heights={"N2": 1600.0})
    assert broken(house, pack("A", "S2 E1 S1+N2 N1 W1")) == {"support"}
    assert broken(six(masses=EVEN, heights={"N2": 1800.0}), pack("A", "S2 E1 S1+N2 N1 W1")) == set()


@pytest.mark.parametrize(("balance_mm", "kept"), [(65.0, True), (64.0, False)])
def test_balance_by_hand(balance_mm: float, *, kept: bool) -> None:
    # S1 (60 kg, 3000) and N2 (100 kg, 1000) end to end: the row runs from -2000 to 2000, S1's middle lies at
    # -500 and N2's at 1500. Moment 60 x -500 + 100 x 1500 = 120 000 kg mm. The other frames lie centred. Mass
    # 5 x 60 + 100 = 400 kg: 120 000 / 400 = 300 mm off. With 1600 kg more in W1: 120 000 / 1847 = 64.97 mm.
    house = six(
        masses={"N2": 100.0, "W1": 1507.0},
        limits=LoadLimits(balance_mm=balance_mm, most_kg=5000.0),
    )
    assert broken(house, pack("A", "S2 E1 S1+N2 N1 W1")) == (set() if kept else {"balance"})


def test_layer_room() -> None:
    assert broken(six(masses=EVEN), pack("A", "S2 S1+N2 E1 N1 W1")) == set()
    # 2000 + 3000 is longer than the longest frame, 4000; it hangs over by 500 too.
    assert broken(six(masses=EVEN, limits=LoadLimits(overhang_mm=500.0)), pack("A", "N2 S1+S2 E1 N1 W1")) == {
        "layer-room"
    }
    # With 1 mm between them S1 and N2 are 4001.
    assert broken(six(masses=EVEN, limits=LoadLimits(layer_gap_mm=1.0)), pack("A", "S2 S1+N2 E1 N1 W1")) == {
        "layer-room"
    }
    assert broken(six(masses=EVEN, limits=LoadLimits(end_to_end=False)), pack("A", "S2 S1+N2 E1 N1 W1")) == {
        "layer-room"
    }


def test_side_by_side_within_the_tallest() -> None:
    low = {"S1": 1200.0, "S2": 1200.0}
    beside = pack("A", "N2 S1|S2 E1 N1 W1")
    assert broken(six(heights=low), beside) == set()
    assert broken(six(heights=low, limits=LoadLimits(side_by_side=False)), beside) == {"layer-room"}
    assert broken(six(heights={"S1": 1201.0, "S2": 1200.0}), beside) == {"layer-room"}


def test_together_and_apart() -> None:
    two = (pack("A", "N2 S1 E1"), pack("B", "S2 N1 W1"))
    assert broken(six(limits=LoadLimits(together=(("S1", "E1"),))), *two) == set()
    assert broken(six(limits=LoadLimits(together=(("S1", "S2"),))), *two) == {"together"}
    assert broken(six(limits=LoadLimits(apart=(("S1", "S2"), ("E1", "W1")))), *two) == set()
    assert broken(six(limits=LoadLimits(apart=(("S1", "S2", "E1"),))), *two) == {"apart"}


def test_pack_count() -> None:
    two = (pack("A", "N2 S1 E1"), pack("B", "S2 N1 W1"))
    assert broken(six(limits=LoadLimits(most_packs=1)), *two) == {"pack-count"}
    assert broken(six(places=(landing("A"),)), *two) == {"pack-count"}


def test_levels_lie_apart() -> None:
    house = six(places=(landing("A", level=2), landing("B")))
    assert broken(house, pack("A", LONG_DOWN)) == {"level-apart"}


def test_packs_come_off_in_the_order_wanted() -> None:
    decks = (Deck("first", 8000.0, 1000.0), Deck("second", 4000.0, 1000.0))
    house = six(decks=decks)
    two = (pack("A", "N2 S1 E1"), pack("B", "S2 N1 W1"))
    # Wanted: A, then B, as no lifts are told.
    assert broken(house, *two, decks=[DeckLoad("first", ("A", "B"))]) == set()
    assert broken(house, *two, decks=[DeckLoad("first", ("A",)), DeckLoad("second", ("B",))]) == set()
    assert broken(house, *two, decks=[DeckLoad("first", ("B", "A"))]) == {"delivery-order"}
    assert broken(house, *two, decks=[DeckLoad("first", ("A",))]) == {"delivery-order"}
    # Two packs of 4000 mm do not fit on 4000 mm.
    assert broken(house, *two, decks=[DeckLoad("second", ("A", "B"))]) == {"delivery-order"}
    light = six(decks=(Deck("first", 8000.0, 359.0),))
    assert broken(light, *two, decks=[DeckLoad("first", ("A", "B"))]) == {"delivery-order"}


def test_what_is_lifted_first_tells_which_pack_is_wanted_first() -> None:
    house = six(decks=(Deck("first", 8000.0, 1000.0),))
    load = Load((pack("A", "N2 S1 E1"), pack("B", "S2 N1 W1")), (DeckLoad("first", ("A", "B")),))
    assert broken_load_rules(house.scenario, load, ("N2", "S2")) == ()
    assert [fault.rule for fault in broken_load_rules(house.scenario, load, ("S2", "N2"))] == [
        "delivery-order"
    ]


@pytest.mark.parametrize("text", ["N2 S2 S1 E1 N1", "N2 N2 S2 S1 E1 N1 W1"])
def test_a_load_holds_every_frame_once(text: str) -> None:
    assert len(SIX) == 6
    with pytest.raises(ValueError, match="every frame once"):
        broken(six(), pack("A", text))
