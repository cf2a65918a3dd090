"""No plan: the rules in conflict by name, in trade words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from small_house import hut, lean, pile

from packseq.errors import Conflict, NoPlanError
from packseq.house.model import House
from packseq.scenario.model import Spot, StandChoices
from packseq.standup.search import plan_standup

ANTICLOCKWISE = StandChoices(direction="anticlockwise")
# From the top E1, N1, W1, S1: anticlockwise all three wait, and a pile gives them back W1 first.
BACK_TO_FRONT = (("E1",), ("N1",), ("W1",), ("S1",))


def conflicts(house: House) -> Sequence[Conflict]:
    with pytest.raises(NoPlanError) as caught:
        plan_standup(house, limit_s=30)
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
        " takes a frame 8000 mm long and 2400 mm high"
    )


def test_a_pile_that_gives_frames_back_in_the_wrong_order_is_a_conflict_of_order_and_room() -> None:
    (conflict,) = conflicts(hut(BACK_TO_FRONT, spots=(pile(),), stand=ANTICLOCKWISE))
    assert "spot-room" in conflict.rules
    assert "top-of-pack" in conflict.rules
    assert "more spots" in conflict.text


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
