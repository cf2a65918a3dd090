"""Ways in and ground that is clear: a plan that just keeps the rule and one that just breaks it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from small_house import ROOM_LINES, broken, frame, hut, pack, pile, plan_of, room, two_floors

from packseq.check import replay
from packseq.house.model import House
from packseq.scenario.model import Opening, Spot

ROUND = "S1 S2 E1 E2 N1 N2 W1 W2"

# W1's footprint runs from x = -45 to 45. Packs and spots of small_house are 8000 long.
TOUCHING, COVERING = (-4045, 4000), (-4044, 4000)


def texts(house: House, text: str) -> list[str]:
    return [each.text for each in replay(house, plan_of(house, text)).violations]


def solid_room(*, opening: Opening | None = None, spots: tuple[Spot, ...] = ()) -> House:
    """Return the room with solid frames, a hole in E1 if wanted, and a second internal frame I2."""
    house = room(spots=spots, solid=True)
    frames = dict(house.scenario.frames)
    if opening is not None:
        frames["E1"] = replace(frames["E1"], openings=(opening,))
    frames["I2"] = frame("I2", ((1000, 0), (1000, 4000)), solid=True)
    packs = {"A": pack("A", (2000, -3000), [[*ROOM_LINES, "I2"]])}
    (level,) = house.levels
    touches = {**house.touches, "I2": ("N2", "S1"), "N2": ("I2", "N1", "W1"), "S1": ("I2", "S2", "W2")}
    return replace(
        house,
        scenario=replace(house.scenario, frames=frames, packs=packs),
        levels=(replace(level, internals=("I1", "I2")),),
        touches=touches,
    )


def test_way_in_wants_a_hole_where_the_last_frame_is_to_stand() -> None:
    house = room(solid=True)
    assert broken(house, "S1 S2 E1 E2 N1 N2 W1 I1 W2") == set()
    assert broken(house, f"{ROUND} I1") == {("way-in", 9)}
    assert texts(house, f"{ROUND} I1") == [
        "I1 has no way from pack A to its line: E1, E2, N1, N2, S1, S2, W1, W2 shut it off"
    ]


@pytest.mark.parametrize(("width_mm", "rules"), [(1517, set()), (1516, {("way-in", 9)})])
def test_way_in_goes_through_an_opening_that_lets_the_frame_through(
    width_mm: float, rules: set[tuple[str, int]]
) -> None:
    # 2400 x 90 tilted until it is 2040 high: r = sqrt(2400^2 + 90^2) = 2401.69, phi = atan(90 / 2400) = 2.148
    # degrees; it spans r cos(u - phi) = 2040 at u - phi = 31.852, and then is r sin(u + phi) =
    # r sin(31.852 + 2 x 2.148) = 2401.69 x 0.58988 = 1416.7 wide. With 50 on both sides: 1516.7.
    house = solid_room(opening=Opening("door", 100, width_mm, 0, 2040))
    assert broken(house, f"{ROUND} I1") - {("plan-file", None)} == rules


def test_way_in_holds_for_setting_aside_too() -> None:
    inside = Spot("L", 1, (2000, 2000), 45.0, (4200, 300), "lean", 2)
    house = solid_room(spots=(inside,))
    assert broken(house, "S1 S2 E1 E2 N1 N2 W1 I1>L W2 I1") - {("plan-file", None)} == set()
    assert broken(house, f"{ROUND} I1>L I1") - {("plan-file", None)} == {("way-in", 9)}
    assert "I1 has no way from pack A to spot L: E1, E2, N1, N2, S1, S2, W1, W2 shut it off" in texts(
        house, f"{ROUND} I1>L I1"
    )


def test_way_in_holds_for_the_team_with_empty_hands() -> None:
    # A frame goes through 1900 x 1899 tilted, but nobody walks through it: that takes a head at 1900.
    for head_mm, rules in ((1900, set()), (1899, {("way-in", 10)})):
        house = solid_room(opening=Opening("opening", 50, 1900, 0, head_mm))
        assert broken(house, f"{ROUND} I2 I1") == rules
    (said,) = texts(house, f"{ROUND} I2 I1")
    assert said.startswith("the team has no way from the line of I2 to pack A: E1, E2, ")


def test_way_in_names_no_frames_where_none_is_in_the_way() -> None:
    house = hut((("S1", "E1", "N1", "W1"),), solid=True)
    pond = ((2000.0, -1000.0), (4000.0, -1000.0), (4000.0, 1000.0), (2000.0, 1000.0))
    wet = replace(house, scenario=replace(house.scenario, no_go=(pond,)))
    said = texts(wet, "S1 E1 N1 W1")
    assert said[0] == "S1 has no way from pack A to its line: no-go areas shut it off"
    assert said[1] == "the team has no way from the line of S1 to pack A: no-go areas shut it off"


@pytest.mark.parametrize(("at", "rules"), [(TOUCHING, set()), (COVERING, {("ground-clear", 2)})])
def test_ground_clear_stands_nothing_under_a_pack_with_frames(
    at: tuple[float, float], rules: set[tuple[str, int]]
) -> None:
    house = hut(packs=(pack("A", at, (("S1", "E1", "N1", "W1"),)),))
    assert broken(house, "S1 W1 N1 E1") == rules
    # The other way round W1 is the last of the pack: it is in the air when it is stood.
    assert broken(house, "S1 E1 N1 W1") == set()


def test_ground_clear_names_what_lies_there() -> None:
    house = hut(packs=(pack("A", COVERING, (("S1", "E1", "N1", "W1"),)),))
    assert texts(house, "S1 W1 N1 E1") == ["W1 is stood where pack A still lies, with E1, N1 in it"]


@pytest.mark.parametrize(("at", "rules"), [(TOUCHING, set()), (COVERING, {("ground-clear", 3)})])
def test_ground_clear_counts_what_was_put_on_top(
    at: tuple[float, float], rules: set[tuple[str, int]]
) -> None:
    packs = (
        pack("A", (6000, -4000), (("N1",), ("W1", "E1"))),
        pack("B", at, (("S1",),), holds=2),
    )
    assert broken(hut(packs=packs), "S1 N1>B+ W1 N1 E1") == rules


@pytest.mark.parametrize(("at", "rules"), [(TOUCHING, set()), (COVERING, {("ground-clear", 3)})])
def test_ground_clear_stands_nothing_under_a_spot_with_frames(
    at: tuple[float, float], rules: set[tuple[str, int]]
) -> None:
    house = hut((("E1",), ("S1", "W1", "N1")), spots=(pile("P", at),))
    assert broken(house, "E1>P S1 W1 N1 E1") == rules
    # An empty spot covers nothing, and the frame that lay alone on it is in the air.
    assert broken(hut((("E1", "S1", "W1", "N1"),), spots=(pile("P", at),)), "S1 W1 N1 E1") == set()
    assert broken(hut(spots=(pile("P", at),)), "W1>P S1 E1 N1 W1") == set()


@pytest.mark.parametrize(("at", "rules"), [(TOUCHING, set()), (COVERING, {("ground-clear", 3)})])
def test_ground_clear_puts_nothing_down_across_what_stands(
    at: tuple[float, float], rules: set[tuple[str, int]]
) -> None:
    house = hut((("S1", "W1", "N1", "E1"),), spots=(pile("P", at),))
    assert broken(house, "S1 W1 E1>P N1 E1") == rules
    topped = hut(
        packs=(pack("A", (6000, -4000), (("W1", "N1", "E1"),)), pack("B", at, (("S1",),), holds=3)),
    )
    assert broken(topped, "S1 W1 E1>B+ N1 E1") == rules


def test_ground_clear_says_what_stands_across_a_spot() -> None:
    house = hut((("S1", "W1", "N1", "E1"),), spots=(pile("P", COVERING),))
    assert texts(house, "S1 W1 E1>P N1 E1") == ["E1 is set aside on spot P, where W1 stands"]


def test_ground_clear_is_for_one_level() -> None:
    upper = pile("Q", COVERING, level=2)
    assert (
        broken(two_floors(spots=(upper,)), "S1 W1 N1 E1 UW1>Q US1 UE1 UN1 UW1")
        - {
            ("lap-order", 2),
            ("lap-order", 3),
        }
        == set()
    )
