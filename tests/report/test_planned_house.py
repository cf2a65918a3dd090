from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from garden import SCENARIOS, flowing, garden_by_hand, replayed, scenario_house, shown

from packseq.baseline import by_frame_list, by_nearest
from packseq.check import Replay, replay
from packseq.check.timing import estimate
from packseq.plan.model import StageResult, Status
from packseq.report.alternatives import Alternative, unplanned_alternatives
from packseq.report.headline import headline, stage_sentence
from packseq.report.planned import planned_house
from packseq.report.remarks import remarks
from packseq.report.schedule import schedule_of
from packseq.report.standlist import stand_list
from packseq.report.unpacking import unpacking_lists
from packseq.report.waiting import waiting_lists
from packseq.report.words import metres
from packseq.scenario.model import StandChoices


def whole_report(done: Replay) -> str:
    return shown(planned_house(done, unplanned_alternatives(done), stopped=False))


@cache
def unplanned_in(name: str) -> Replay:
    """Return what the first crew makes of a demo that gets to its end."""
    house = scenario_house(name)
    plan = by_nearest(house).plan or by_frame_list(house).plan
    assert plan is not None
    return replay(house, plan)


def test_the_stand_list_gives_every_stand_with_what_comes_first() -> None:
    done = garden_by_hand()
    text = shown([stand_list(done.job.house, schedule_of(done.plan), estimate(done))])
    # Teams of ceil(kg / 25): N2 weighs 30, E5 65.8, E4 45.7, E2 65.5, N1 82 kg.
    assert "1 N2 (2) on spot S1; E5 (3), E4 (2) on spot S2 E2 south wall pack A, layer 4 3 none" in text
    assert "3 N1 (4) on spot S1 E6 west wall pack A, layer 7 4 E1" in text
    assert "8 E3 east wall pack A, layer 8 4 E2, E4, N2" in text
    assert text.count("wall") == 1 + 8  # the heading and a row for each frame


def test_the_unpacking_list_goes_from_top_to_bottom() -> None:
    done = garden_by_hand()
    text = shown(unpacking_lists(done.job.house, schedule_of(done.plan)))
    rows = [line for line in text.split("\n") if line[:1].isdigit()]
    assert [row.split()[:2] for row in rows] == [
        ["1", "N2"],
        ["2", "E5"],
        ["3", "E4"],
        ["4", "E2"],
        ["5", "E1"],
        ["6", "N1"],
        ["7", "E6"],
        ["8", "E3"],
    ]
    assert (
        rows[0] == "1 N2 2 set aside on spot S1 before no. 1; stands as no. 7 on internal wall 2 (east-west)"
    )
    assert rows[3] == "4 E2 3 stand as no. 1 on the south wall"


def test_a_pile_comes_off_last_on_first() -> None:
    done = garden_by_hand()
    text = shown(waiting_lists(done.job.house, schedule_of(done.plan)))
    # N1 was put on N2, so it comes off first.
    assert "1 N1 before no. 3 stands as no. 6 on internal wall 1 (north-south)" in text
    assert "2 N2 before no. 1 stands as no. 7 on internal wall 2 (east-west)" in text
    assert text.index("spot S1") < text.index("spot S2")


def test_a_frame_set_aside_twice_is_followed_from_spot_to_spot() -> None:
    house = scenario_house("garden-room")
    done = replayed(house, "N2>S1 N2>S2 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3")
    assert done.kept
    schedule = schedule_of(done.plan)
    unpacking = shown(unpacking_lists(house, schedule))
    assert "1 N2 2 set aside on spot S1 before no. 1, then on spot S2 before no. 1; stands" in unpacking
    waiting = shown(waiting_lists(house, schedule))
    assert "1 N2 before no. 1 is set aside again on spot S2 before no. 1" in waiting


def test_frames_on_top_of_a_pack_are_told_with_the_pack() -> None:
    house = scenario_house("garden-room")
    pack = house.scenario.packs["A"]
    packs = {
        "A": replace(pack, layers=pack.layers[:-1], layer_numbers=pack.layer_numbers[:-1]),
        "B": replace(pack, name="B", layers=(("E3",),), layer_numbers=(1,), holds=1),
    }
    split = replace(house, scenario=replace(house.scenario, packs=packs))
    done = replayed(split, "N2>B+ E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3")
    assert done.kept
    schedule = schedule_of(done.plan)
    unpacking = shown(unpacking_lists(split, schedule))
    assert "1 N2 2 set aside on the top of pack B before no. 1; stands as no. 7" in unpacking
    waits = "Waiting on top of it for a while: N2 (see What waits where)."
    assert unpacking.index("Unpacking pack B") < unpacking.index(waits)
    assert unpacking.count("Waiting on top") == 1
    waiting = shown(waiting_lists(split, schedule))
    assert "What waits where: on top of pack B\nLast on, first off." in waiting
    stands = shown([stand_list(split, schedule, estimate(done))])
    assert "1 N2 (2) on the top of pack B; E5 (3), E4 (2) on spot S2 E2" in stands
    assert "7 N2 internal wall 2 (east-west) the top of pack B 2 N1" in stands


def test_unused_spots_and_no_staging_at_all_are_said() -> None:
    text = whole_report(unplanned_in("two-level"))
    assert "What waits where: spots not used\nS4." in text
    house = scenario_house("garden-room")
    loose = {
        "A": replace(house.scenario.packs["A"], layers=(tuple(house.scenario.frames),), layer_numbers=(1,))
    }
    flat = replace(house, scenario=replace(house.scenario, packs=loose))
    done = replayed(flat, "E2 E1 E6 E5 E4 N1 N2 E3")
    assert done.kept
    assert "What waits where\nNothing is set aside." in whole_report(done)


def test_the_remarks_name_wall_direction_and_what_is_held_open() -> None:
    done = garden_by_hand()
    said = remarks(done, schedule_of(done.plan))
    order, then = said[0].split(". ")
    assert order == "Reference wall first, from end to end: E2, E1 (the south wall)"
    assert then == "Then on round the building clockwise."
    assert said[1].startswith(
        "Held open: E3 (on the east wall) is left out until no. 8. Until then 2 internal"
    )
    assert said[2:] == ("No. 1, E2, touches no other frame yet: brace it as a free-standing frame.",)


@pytest.mark.parametrize(
    ("lap", "then"),
    [("both-ways", "Then round the building from either end"), ("free", "Then in the order listed.")],
)
def test_the_remarks_follow_the_lap(lap: str, then: str) -> None:
    house = scenario_house("garden-room")
    stand = StandChoices(lap="both-ways" if lap == "both-ways" else "free")
    other = replace(house, scenario=replace(house.scenario, stand=stand))
    done = replayed(other, "N2>S1 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3")
    assert done.kept
    assert then in remarks(done, schedule_of(done.plan))[0]


def test_a_frame_across_a_gap_is_told_to_be_braced_as_free_standing() -> None:
    done = unplanned_in("l-shaped")
    said = remarks(done, schedule_of(done.plan))
    # The scenario declares the gap between E1 and E18 for the garage door.
    (across,) = [line for line in said if "across a gap" in line]
    assert "E18, is stood across a gap from E1: brace it as a free-standing frame" in across


def test_each_level_has_its_own_reference_wall() -> None:
    text = whole_report(unplanned_in("two-level"))
    assert "Level 1: Reference wall first, from end to end: E3, E2, E1 (the level 1 south wall)." in text
    assert "Level 2: Reference wall first, from end to end: UE3, UE2, UE1 (the level 2 south wall)." in text
    assert "No. 23, UE3, touches no other frame yet" in text


def test_the_headline_compares_with_both_crews() -> None:
    done = unplanned_in("two-level")
    text = flowing([headline(done, unplanned_alternatives(done), stopped=False)])
    listed, nearest = unplanned_alternatives(done)
    assert listed.done is not None
    assert nearest.done is not None
    saved = listed.done.cost.extra_lifts - done.cost.extra_lifts
    assert saved > 0
    assert f"down the frame list, unplanned: {saved} extra lifts fewer and" in text
    assert "whatever lies nearest, unplanned: as many extra lifts and as much walking." in text.replace(
        "\n", " "
    )
    assert "stopped" not in text


def test_more_lifts_and_more_walking_are_not_hidden() -> None:
    done = garden_by_hand()
    flat = replace(done, cost=replace(done.cost, extra_lifts=1, walking_mm=50_000))
    text = flowing([headline(done, [Alternative("has luck", flat, None)], stopped=True)])
    more_m = metres(done.cost.walking_mm) - 50
    assert f"that has luck, unplanned: 3 extra lifts more and {more_m} m more walking." in text
    assert "The search was stopped" in text


def test_a_crew_that_gets_stuck_is_said_to() -> None:
    done = garden_by_hand()
    stuck = Alternative("has no room", None, "clockwise: stuck with 2 of 8")
    text = flowing(planned_house(done, [stuck], stopped=False))
    assert "no comparison, because that crew gets stuck (clockwise: stuck with 2 of 8)." in text
    assert "a crew that has no room gets stuck" in text


def test_crews_without_room_do_get_stuck() -> None:
    done = garden_by_hand()
    cramped = replace(done, job=replace(done.job, spots={}))
    for alternative in unplanned_alternatives(cramped):
        assert alternative.done is None
        assert alternative.stuck is not None
        assert "no way to get at" in alternative.stuck


@pytest.mark.parametrize(
    ("name", "value", "bound", "status", "said"),
    [
        (
            "extra lifts",
            3,
            3,
            "optimal",
            "Extra lifts: 3. Proven: no order that keeps the rules needs fewer.",
        ),
        # (14 - 12) / 14 = 14.3 %
        (
            "extra lifts",
            14,
            12,
            "best found",
            "Extra lifts: 14. Best found; at least 12 are needed (gap 14.3%).",
        ),
        (
            "walking_mm",
            412_400,
            409_600,
            "best found",
            "Walking: 412 m. Best found; at least 410 m are needed (gap 0.7%).",
        ),
        (
            "breaks",
            9,
            0,
            "best found",
            "Frames stood away from the one before: 9. Best found; how much could be saved is not known.",
        ),
        ("breaks", 2, 0, "none", "Frames stood away from the one before: 2. Not searched any further."),
        (
            "breaks",
            0,
            0,
            "best found",
            (
                "Frames stood away from the one before: 0. Best found: none better without costing more of"
                " what comes first."
            ),
        ),
    ],
)
def test_a_stage_says_what_is_proven(name: str, value: int, bound: int, status: Status, said: str) -> None:
    assert stage_sentence(StageResult(name=name, value=value, bound=bound, status=status)) == said


@pytest.mark.parametrize("name", sorted(folder.name for folder in SCENARIOS.iterdir()))
def test_no_report_says_safe(name: str) -> None:
    assert "safe" not in whole_report(unplanned_in(name)).lower()


def test_the_report_is_ascii_where_the_names_are() -> None:
    assert whole_report(garden_by_hand()).isascii()


@pytest.mark.parametrize("width", [40, 80])
def test_a_narrow_console_cuts_no_name(width: int) -> None:
    done = unplanned_in("l-shaped")
    parts = planned_house(done, unplanned_alternatives(done), stopped=False)
    words = set(shown(parts, width=width).replace(",", " ").split())
    assert set(done.job.house.scenario.frames) <= words
