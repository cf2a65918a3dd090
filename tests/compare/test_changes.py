"""What is compared with a scenario's own choices: one change at a time."""

from __future__ import annotations

from dataclasses import replace

from small_house import hut, pack, room

from packseq.compare.changes import crew_changes, landing_changes, stand_changes
from packseq.house.model import House
from packseq.scenario.model import Place, StandChoices


def stand(house: House) -> list[tuple[str, str, bool]]:
    return [(each.what, each.value, each.narrows) for each in stand_changes(house)]


def test_laps_directions_and_frames_held_open() -> None:
    assert stand(room()) == [
        ("lap", "both-ways", False),
        ("lap", "free", False),
        ("direction", "clockwise", True),
        ("direction", "anticlockwise", True),
        ("hold_open", "0", True),
        ("hold_open", "2", False),
    ]


def test_a_tighter_lap_narrows_and_the_other_direction_does_not() -> None:
    house = room(stand=StandChoices(lap="free", direction="clockwise", hold_open=2))
    assert stand(house) == [
        ("lap", "one-way", True),
        ("lap", "both-ways", True),
        ("direction", "anticlockwise", False),
        ("hold_open", "0", True),
        ("hold_open", "1", True),
    ]


def test_each_change_is_made_alone() -> None:
    own = room().scenario.stand
    made = {each.value: each.house.scenario.stand for each in stand_changes(room())}
    assert made["free"] == replace(own, lap="free")
    assert made["clockwise"] == replace(own, direction="clockwise")
    assert made["2"] == replace(own, hold_open=2)


def test_holding_open_is_not_compared_where_it_changes_nothing() -> None:
    without_internals = [each.what for each in stand_changes(hut())]
    any_time = [each.what for each in stand_changes(room(stand=StandChoices(internals_any_time=True)))]
    assert "hold_open" not in [*without_internals, *any_time]


def test_a_crew_of_one_fewer_and_one_more() -> None:
    # Frames of 60 kg, 25 kg each: teams of 3.
    house = hut(people=4)
    found = [(each.value, each.narrows) for each in crew_changes(house)]
    assert found == [("3", True), ("5", True)]
    assert [each.house.scenario.crew.people for each in crew_changes(house)] == [3, 5]


def test_a_crew_too_small_is_compared_with_one_that_can_lift_everything() -> None:
    # 200 kg at 25 kg each: 8 people.
    house = hut(masses={"E1": 200}, people=4)
    assert [(each.value, each.narrows) for each in crew_changes(house)] == [
        ("3", True),
        ("5", False),
        ("8", False),
    ]
    assert [each.value for each in crew_changes(hut(people=1))] == ["2", "3"]


def test_each_place_of_a_pack_with_the_other_packs_where_they_were_chosen() -> None:
    packs = (
        pack("A", (6000, -4000), [["S1", "E1"]], places=2),
        pack("B", (0, -4000), [["N1", "W1"]], places=2),
    )
    house = hut(packs=packs)
    second = {"A": Place((7000, -4000), 0.0), "B": Place((1000, -4000), 0.0)}
    found = list(landing_changes(house, second))
    where = [tuple(each.house.scenario.packs[name].places[0].at[0] for name in ("A", "B")) for each in found]
    # The chosen places are 7000 and 1000; the first ones 6000 and 0, compared together at the end.
    assert where == [(6000, 1000), (7000, 1000), (7000, 0), (7000, 1000), (6000, 0)]
    assert found[0].name == "Pack A at place 1 (x 6000, y -4000)"
    assert found[4].name == "Every pack at its first place"
    assert all(each.narrows for each in found)
    assert all(len(each.house.scenario.packs["B"].places) == 1 for each in found)


def test_every_pack_at_its_first_place_is_no_row_of_its_own_where_another_says_it() -> None:
    packs = (
        pack("A", (6000, -4000), [["S1", "E1"]], places=2),
        pack("B", (0, -4000), [["N1", "W1"]], places=2),
    )
    chosen = {"A": Place((7000, -4000), 0.0), "B": Place((0, -4000), 0.0)}
    assert len(list(landing_changes(hut(packs=packs), chosen))) == 4
    assert list(landing_changes(hut(), {"A": Place((6000, -4000), 0.0)})) == []
