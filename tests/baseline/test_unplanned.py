"""What a crew does unplanned, on houses small enough to follow by hand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_house import ROOM_LINES, hut, lean, pack, pile, room, two_floors

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.check import replay
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.routes.engine import build_routes
from packseq.scenario.model import Lap, StandChoices
from packseq.scenario.read import read_scenario

Baseline = Callable[[House], Unplanned]
BOTH = pytest.mark.parametrize("baseline", [by_frame_list, by_nearest])


def line(result: Unplanned) -> str:
    """Return a plan as a line of steps."""
    assert result.plan is not None, result.reason
    words = []
    for move in result.plan.moves:
        target = "" if move.to is None else f">{move.to.spot or f'{move.to.pack}+'}"
        words.append(move.frame + target)
    return " ".join(words)


def stood(result: Unplanned) -> str:
    assert result.plan is not None, result.reason
    return " ".join(move.frame for move in result.plan.moves if move.do == "stand")


@BOTH
def test_the_better_direction_is_taken(baseline: Baseline) -> None:
    # Anticlockwise S1 E1 N1 W1 sets W1 aside; clockwise S1 W1 N1 E1 sets W1 and E1 aside.
    house = hut(spots=(pile(),))
    assert line(baseline(house)) == "W1>P S1 E1 N1 W1"
    turned = hut((("E1",), ("S1",), ("W1",), ("N1",)), spots=(pile(),))
    assert line(baseline(turned)) == "E1>P S1 W1 N1 E1"


@BOTH
def test_with_as_many_lifts_either_way_the_shorter_walk_is_taken(baseline: Baseline) -> None:
    # A lies 5000 east of E1, B 5000 west of W1; S1 and N1 are sqrt(8000^2 + 4000^2) = 8944.3 from both.
    # Loaded: S1 8944, E1 5000, N1 8944, W1 5000 = 27888 either way. Empty, anticlockwise: S1-A 8944,
    # E1-B 11000, N1-B 8944 = 28888; clockwise: S1-B 8944, W1-B 5000, N1-A 8944 = 22888.
    packs = (pack("A", (11000, 4000), (("E1",),)), pack("B", (-5000, 4000), (("S1", "W1", "N1"),)))
    result = baseline(hut(packs=packs))
    assert stood(result) == "S1 W1 N1 E1"
    assert result.plan is not None
    assert sum(move.empty_mm + move.loaded_mm for move in result.plan.moves) == 50_776


@BOTH
def test_fewer_lifts_come_before_a_shorter_walk(baseline: Baseline) -> None:
    # As above, but W1 lies under N1, with a lean 2500 north of B. Anticlockwise 27888 + 28888 = 56776 and
    # nothing is set aside. Clockwise: S1 8944, back 8944, N1 aside 2500, back 2500, W1 5000, to the lean
    # sqrt(5000^2 + 2500^2) = 5590, N1 sqrt(8000^2 + 1500^2) = 8139, to A 8944, E1 5000 = 55561.
    packs = (pack("A", (11000, 4000), (("E1",),)), pack("B", (-5000, 4000), (("S1", "N1"), ("W1",))))
    house = hut(packs=packs, spots=(lean("L", (-5000, 6500)),))
    assert line(baseline(house)) == "S1 E1 N1 W1"


def test_the_list_goes_by_the_list_and_the_nearest_by_the_walk() -> None:
    packs = (
        pack("A", (2000, -1500), (("S1", "S2", "W2", "W1", "N2"),)),
        pack("B", (9000, -1000), (("E1", "E2", "N1", "I1"),)),
    )
    house = room(packs, stand=StandChoices(lap="both-ways", direction="anticlockwise", hold_open=0))
    assert stood(by_frame_list(house)) == "S1 S2 E1 E2 N1 N2 W1 W2 I1"
    # After S2 the team is at (3000, 0): A is 1803 mm away, B 6083 mm. From the middle of N2 at
    # (1000, 4000) only B is left, and N1 is the one that joins.
    assert stood(by_nearest(house)) == "S1 S2 W2 W1 N2 E1 E2 N1 I1"


def test_the_nearest_is_taken_from_under_others_only_when_nothing_is_free() -> None:
    packs = (
        pack("A", (2000, -1500), (("S1", "S2"), ("I1",), ("W2",))),
        pack("B", (9000, -1000), (("E1", "E2", "N1", "N2", "W1"),)),
    )
    house = room(packs, spots=(pile(),), stand=StandChoices(lap="both-ways", direction="anticlockwise"))
    # W2 lies nearer than E1, but under I1.
    assert stood(by_nearest(house)) == "S1 S2 E1 E2 N1 N2 W1 I1 W2"


@BOTH
def test_what_lies_above_goes_to_the_nearest_heap_with_room(baseline: Baseline) -> None:
    near, far = lean("N", (6000, -5000), holds=1), lean("F", (6000, -9000))
    house = hut(
        (("N1",), ("W1",), ("S1",), ("E1",)),
        spots=(far, near),
        stand=StandChoices(direction="anticlockwise"),
    )
    assert line(baseline(house)) == "N1>N W1>F S1 E1 N1 W1"


def test_a_crew_that_thinks_again_gets_on_where_one_is_stuck() -> None:
    scenario = read_scenario(Path(__file__).parents[2] / "scenarios" / "three-bedroom")
    house = derive_house(scenario)
    stuck = by_nearest(house)
    assert stuck.plan is None
    assert stuck.reason is not None
    assert "shuts a frame out from its line" in stuck.reason
    result = by_nearest(house, thinks_again=True)
    assert result.plan is not None
    assert replay(house, result.plan).kept


def test_a_crew_that_has_nothing_to_think_of_is_stuck_all_the_same() -> None:
    # With nothing held open the internal frame is shut out, however far the crew goes back.
    house = room(stand=StandChoices(hold_open=0), solid=True)
    result = by_nearest(house, thinks_again=True)
    assert result.plan is None
    assert result == by_nearest(house)


def test_a_pile_is_dug_and_a_pack_takes_what_it_may() -> None:
    packs = (
        pack("A", (6000, -4000), (("N1",), ("W1",), ("S1",))),
        pack("B", (0, -4000), (("E1",),), holds=1),
    )
    house = hut(packs=packs, spots=(pile("P", (6000, -5000)),), stand=StandChoices(direction="clockwise"))
    # N1 and then W1 go on pile P, W1 on top; W1 is stood first, and nothing must be dug.
    assert line(by_frame_list(house)) == "N1>P W1>P S1 W1 N1 E1"


@BOTH
def test_a_crew_with_no_room_gets_stuck_and_says_so(baseline: Baseline) -> None:
    house = hut(stand=StandChoices(direction="clockwise"))
    result = baseline(house)
    assert result.plan is None
    assert result.reason == (
        "clockwise: stuck with 0 of 4 frames stood: no way to get at S1 with the room that is left "
        "(spot-room)"
    )


@BOTH
def test_a_crew_too_small_gets_stuck(baseline: Baseline) -> None:
    house = hut((("S1", "E1", "N1", "W1"),), masses={"N1": 101.0}, stand=StandChoices(direction="clockwise"))
    result = baseline(house)
    assert result.plan is None
    assert "stuck with 2 of 4 frames stood" in (result.reason or "")


@BOTH
def test_a_crew_shuts_no_frame_out(baseline: Baseline) -> None:
    # W2, last of the lap anticlockwise, would shut I1 out: it is left until I1 is in.
    house = room(stand=StandChoices(direction="anticlockwise"), solid=True)
    assert stood(baseline(house)) == "S1 S2 E1 E2 N1 N2 W1 I1 W2"


@BOTH
def test_a_crew_that_must_shut_a_frame_out_gets_stuck_and_says_so(baseline: Baseline) -> None:
    house = room(stand=StandChoices(direction="anticlockwise", hold_open=0), solid=True)
    assert baseline(house).reason == (
        "anticlockwise: stuck with 7 of 9 frames stood: whatever is stood next shuts a frame out from its "
        "line, such as I1 (way-in)"
    )


def test_another_frame_is_tried_where_the_first_cannot_be_got_at() -> None:
    packs = (
        pack("A", (6000, -4000), (("S1",), ("N1",), ("E1",))),
        pack("B", (0, -4000), (("W1",),)),
    )
    # E1 is first in the list but under N1, with nowhere to put it; W1 is free, then N1, then E1.
    house = hut(packs=packs, stand=StandChoices(lap="free"))
    assert line(by_frame_list(house)) == "S1 W1 N1 E1"


@BOTH
def test_levels_are_stood_one_after_the_other(baseline: Baseline) -> None:
    house = two_floors(spots=(pile("Q", (-5000, 4000), level=2),))
    assert stood(baseline(house)) in (
        "S1 E1 N1 W1 US1 UE1 UN1 UW1",
        "S1 W1 N1 E1 US1 UW1 UN1 UE1",
    )


@st.composite
def shuffled_rooms(draw: st.DrawFn) -> House:
    """Draw the room shuffled into two packs of three frames a layer, with room to spare."""
    names = draw(st.permutations(sorted(ROOM_LINES)))
    cut = draw(st.integers(1, 8))
    deep = draw(st.integers(1, 3))
    packs = tuple(
        pack(name, at, [part[start : start + deep] for start in range(0, len(part), deep)], holds=3)
        for name, at, part in (("A", (2000, -1500), names[:cut]), ("B", (9000, 0), names[cut:]))
    )
    lap: Lap = draw(st.sampled_from(["one-way", "both-ways", "free"]))
    choices = StandChoices(lap=lap, hold_open=draw(st.integers(0, 2)))
    return room(packs, spots=(pile("P", (-5000, 0), 3), lean("L", (-5000, 4000))), stand=choices)


@settings(max_examples=60, deadline=None)
@given(house=shuffled_rooms())
def test_what_comes_of_it_keeps_every_rule(house: House) -> None:
    for result in (by_frame_list(house), by_nearest(house)):
        assert result.plan is not None, result.reason
        done = replay(house, result.plan)
        assert done.violations == ()


@settings(max_examples=20, deadline=None)
@given(house=shuffled_rooms())
def test_routes_that_have_served_other_crews_change_nothing(house: House) -> None:
    routes = build_routes(house.scenario)
    for crew in (by_nearest, by_frame_list, by_nearest):
        assert crew(house, routes=routes) == crew(house)
