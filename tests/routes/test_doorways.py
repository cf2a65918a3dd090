"""Ways in that something lies right before."""

from __future__ import annotations

import pytest
from small_house import ROOM_ROUND, lean, pack, room

from packseq.house.model import House
from packseq.routes.doorways import blocked_ways_in
from packseq.scenario.model import Spot, StandChoices

OUT_OF_THE_WAY = pack("A", (2000, -20_000), [(*ROOM_ROUND, "I1")])


def closed_room(*spots: Spot, hold_open: int = 1) -> House:
    """Return the room with solid walls: clockwise S2, S1, W2 ... E1, anticlockwise ... W2 are stood last."""
    return room((OUT_OF_THE_WAY,), spots=spots, stand=StandChoices(hold_open=hold_open), solid=True)


def before(x: float, name: str, *, wide: float = 1500.0) -> Spot:
    """Return a lean along a side wall, right before its southern frame, which is 2000 long."""
    return Spot(name, 1, (x, 1000.0), 90.0, (wide, 700.0), "lean", 4)


EAST, WEST = before(4500, "L"), before(-500, "M")


def test_a_spot_before_one_of_two_ways_in_is_no_matter() -> None:
    assert blocked_ways_in(closed_room(EAST)) == ()


def test_spots_before_the_only_ways_in_are_named_with_what_frees_them() -> None:
    # E1 and W2 may be held open. A lean 1500 long leaves 250 at each end of either: nobody gets past.
    (said,) = blocked_ways_in(closed_room(EAST, WEST))
    assert said.startswith("way-in: spot ")
    assert "spot L" in said
    assert "spot M" in said
    assert "E1, W2" in said
    assert said.endswith("move clear by 900 mm, or hold another frame open")


@pytest.mark.parametrize(("long", "passes"), [(700.0, True), (900.0, False)])
def test_people_need_600_mm_past_it(long: float, passes: bool) -> None:
    # In the middle of 2000: 650 are left at each end of 700, and 550 of 900.
    spots = (before(4500, "L", wide=long), before(-500, "M", wide=long))
    assert (blocked_ways_in(closed_room(*spots)) == ()) is passes


def test_with_no_frame_held_open_and_no_door_there_is_no_way_in_to_lie_before() -> None:
    assert blocked_ways_in(closed_room(lean(at=(2000, 2000)), hold_open=0)) == ()


def test_where_every_pack_lies_inside_nothing_need_come_in() -> None:
    inside = pack("A", (2000, 2000), [(*ROOM_ROUND, "I1")])
    house = room((inside,), spots=(EAST, WEST), stand=StandChoices(hold_open=1), solid=True)
    assert blocked_ways_in(house) == ()
