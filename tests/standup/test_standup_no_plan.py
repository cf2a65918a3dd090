"""No plan: the rules in conflict by name, in trade words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from small_house import ROOM_ROUND, hut, lean, pack, pile, room
from standup_jobs import job_of

from packseq.errors import Conflict, NoPlanError
from packseq.geometry import strip
from packseq.house.model import House
from packseq.scenario.model import Place, Spot, StandChoices
from packseq.standup.conflict import refuse_as_tried
from packseq.standup.search import plan_standup

ANTICLOCKWISE = StandChoices(direction="anticlockwise")
# From the top E1, N1, W1, S1: anticlockwise all three wait, and a pile gives them back W1 first.
BACK_TO_FRONT = (("E1",), ("N1",), ("W1",), ("S1",))


def conflicts(house: House) -> Sequence[Conflict]:
    with pytest.raises(NoPlanError) as caught:
        plan_standup(house, limit_s=10)
    assert caught.value.exit_code == 3
    return caught.value.conflicts


def test_a_frame_too_heavy_for_the_crew_is_named_with_what_it_needs() -> None:
    # 150 kg at 25 kg each need 6 people; 100 kg need 4.
    (conflict,) = conflicts(hut(spots=(pile(),), masses={"N1": 150.0, "E1": 100.0}))
    assert conflict.rules == ("crew-lift",)
    assert conflict.text == "N1 (150 kg) needs 6 people; the crew has 4"


def test_every_frame_too_heavy_is_named() -> None:
    found = conflicts(hut(spots=(pile(),), masses={"N1": 150.0, "E1": 101.0}))
    assert [conflict.text.split()[0] for conflict in found] == ["E1", "N1"]


def test_a_frame_that_must_wait_and_fits_no_spot_is_named_with_spot_room() -> None:
    # W1, 8000 mm long, lies on S1; the pile is 7000 mm long.
    short = Spot("P", 1, (0, -4000), 0.0, (7000, 2400), "pile", 3)
    (conflict,) = conflicts(hut(spots=(short,), stand=ANTICLOCKWISE))
    assert "spot-room" in conflict.rules
    assert "top-of-pack" in conflict.rules
    assert conflict.text == (
        "W1 lies above S1, which is stood first, but no spot of level 1"
        " takes a frame 8000 mm long and 2400 mm high. What would free it: make spot P 8000 x 2400 mm"
    )


def test_the_same_conflict_is_named_where_lifts_and_walking_are_one_cost() -> None:
    short = Spot("P", 1, (0, -4000), 0.0, (7000, 2400), "pile", 3)
    staged = conflicts(hut(spots=(short,), stand=ANTICLOCKWISE))
    assert conflicts(hut(spots=(short,), stand=replace(ANTICLOCKWISE, lift_worth_m=1.5))) == staged


def test_a_pile_that_gives_frames_back_in_the_wrong_order_is_a_conflict_of_order_and_room() -> None:
    (conflict,) = conflicts(hut(BACK_TO_FRONT, spots=(pile(),), stand=ANTICLOCKWISE))
    assert "spot-room" in conflict.rules
    assert "top-of-pack" in conflict.rules
    assert "What would free it: let spot P be a lean; or lap both ways" in conflict.text


def test_too_little_room_says_how_much_there_is() -> None:
    (conflict,) = conflicts(hut(BACK_TO_FRONT, spots=(lean("P", holds=2),), stand=ANTICLOCKWISE))
    assert "spot-room" in conflict.rules
    assert "hold 2 in all, if each is set aside once" in conflict.text


@pytest.mark.parametrize("rule", ["spot-room", "top-of-pack"])
def test_each_rule_named_is_needed_for_the_conflict(rule: str) -> None:
    # A lean of 3 keeps spot-room; the other layers of the pack side by side keep top-of-pack.
    eased = {
        "spot-room": hut(BACK_TO_FRONT, spots=(lean("P", holds=3),), stand=ANTICLOCKWISE),
        "top-of-pack": hut((("E1", "N1", "W1", "S1"),), spots=(pile(),), stand=ANTICLOCKWISE),
    }[rule]
    assert plan_standup(eased, limit_s=30).status == "optimal"


def test_a_frame_that_nothing_standing_can_touch_names_joined() -> None:
    house = hut((("S1", "E1", "N1", "W1"),), spots=(pile(),))
    parted = replace(house, touches={**house.touches, "S1": (), "E1": ("N1",), "W1": ("N1",)})
    (conflict,) = conflicts(parted)
    assert "joined" in conflict.rules


# The perimeter of the room, on the ground south of it, and its internal frame, east of it.
PERIMETER = pack("A", (2000, -3000), [ROOM_ROUND], length_mm=2000)
CLOSED = StandChoices(hold_open=0)
# Takes no frame as long as I1.
SHORT = Spot("L", 1, (-9000, 2000), 0.0, (2000, 1000), "lean", 3)


INSIDE = pack("B", (8000, 2000), [("I1",)], length_mm=3800)


def test_an_internal_frame_shut_out_says_by_what_and_to_hold_a_frame_open_or_land_its_pack_inside() -> None:
    (conflict,) = conflicts(room((PERIMETER, INSIDE), spots=(SHORT,), stand=CLOSED, solid=True))
    assert conflict.rules == ("perimeter-first", "spot-room", "way-in")
    assert conflict.text == (
        "I1 has no way in from pack B once E1, E2, N1, N2, S1, S2 and 2 more stand."
        " What would free it: hold 1 frame open; or land pack B inside, about 1300, 2000"
    )


@pytest.mark.parametrize(
    "eased",
    [
        room((PERIMETER, INSIDE), stand=StandChoices(hold_open=1), solid=True),
        room((PERIMETER, replace(INSIDE, places=(Place((1300, 2000), 90.0),))), stand=CLOSED, solid=True),
    ],
    ids=["held open", "landed inside"],
)
def test_what_is_said_to_free_it_does(eased: House) -> None:
    assert plan_standup(eased, limit_s=30).stages[0].value == 0


def test_a_frame_shut_out_from_where_it_waits_is_told_so() -> None:
    # I1 lies on top, so it must wait, west of the room.
    on_top = pack("A", (2000, -3000), [("I1",), ROOM_ROUND], length_mm=4000)
    west = lean("L", at=(-9000, 2000), holds=3)
    (conflict,) = conflicts(room((on_top,), spots=(west,), stand=CLOSED, solid=True))
    assert conflict.text.startswith("I1 has no way in from where it may wait once ")
    assert conflict.text.endswith("What would free it: hold 1 frame open")


def test_a_spot_on_the_line_of_a_frame_that_is_stood_first_is_told_to_move() -> None:
    # W1 lies on S1 and waits where S1 must stand. The lean, 8000 x 2400, is clear of S1 at y = -1245.
    across = lean("L", at=(3000, 0))
    (conflict,) = conflicts(hut(spots=(across,), stand=ANTICLOCKWISE))
    assert {"ground-clear", "top-of-pack"} <= set(conflict.rules)
    assert conflict.text == (
        "spot L lies across where S1, E1 and W1 must stand."
        " What would free it: move spot L clear of the lines, about 3000, -1500"
    )


def test_packs_on_one_anothers_lines_are_both_told_to_land_clear() -> None:
    # S1 and E1 cannot be stood while N1 and W1 lie across E1, and these wait for S1 with nowhere to go.
    north = pack("A", (3000, 8000), [("S1", "E1")])
    east = pack("B", (6000, 4000), [("N1", "W1")], length_mm=6000)
    (conflict,) = conflicts(hut(packs=(north, east), spots=(SHORT,)))
    assert {"ground-clear", "spot-room"} <= set(conflict.rules)
    assert conflict.text.startswith(
        "pack A lies across where E1, N1 and W1 must stand; pack B lies across where E1 must stand."
    )
    assert "land pack A clear of the lines" in conflict.text
    assert "land pack B clear of the lines" in conflict.text


def test_a_spot_that_nobody_can_reach_is_no_place_to_wait() -> None:
    # The only spot lies inside a ring of four no-go areas, and W1 must wait.
    corners = [(-4900, -13000), (4900, -13000), (4900, -6000), (-4900, -6000), (-4900, -13000)]
    ring = tuple(strip(start, end, 400.0) for start, end in pairwise(corners))
    house = hut(spots=(lean("L", at=(0, -9500)),), stand=ANTICLOCKWISE)
    (conflict,) = conflicts(replace(house, scenario=replace(house.scenario, no_go=ring)))
    assert "way-in" in conflict.rules
    assert conflict.text == "W1 has no way in from where it may wait: no-go areas shut it off"


def test_a_job_of_which_every_order_was_tried_names_the_rules_that_were_kept() -> None:
    job = job_of(hut(spots=(pile(),)), ["joined", "ground-clear", "way-in", "top-of-pack"])
    with pytest.raises(NoPlanError) as caught:
        refuse_as_tried(job, ["way-in"], has_plan=lambda _: False)
    (conflict,) = caught.value.conflicts
    assert conflict.rules == ("joined", "top-of-pack", "way-in")
