"""Each lift of a job beside the guidance: hands, teams, machines, wind, by hand and on the demos."""

from __future__ import annotations

import pytest
from site_plans import demo_house, demo_plan, each_demo
from small_house import hut, lean, pile, plan_of

from packseq.check import replay
from packseq.sitework.lifts.assess import (
    frames_upright,
    lifts_as_delivered,
    lifts_of_plan,
)
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.lifts.lifting import lifting_document, lifting_sheet, study_lifting
from packseq.sitework.lifts.niosh import Posture, recommended_kg

CHOICES = LiftChoices()


def test_hands_at_lift_off_by_layer() -> None:
    # Four layers 90 thick on bearers of 100: the top frame's middle is at 100 + 3 x 90 + 45 = 415, the bottom
    # one's at 145.
    lifts = lifts_as_delivered(hut(), CHOICES)
    assert [(lift.frame, lift.hands_mm) for lift in lifts] == [
        ("W1", 415),
        ("S1", 325),
        ("E1", 235),
        ("N1", 145),
    ]
    assert {lift.source for lift in lifts[:1]} == {"pack A, layer 1"}


def test_a_stated_height_of_the_hands_counts_everywhere() -> None:
    lifts = lifts_as_delivered(hut(), LiftChoices(hands_mm=600))
    assert {lift.hands_mm for lift in lifts} == {600}


def test_hands_at_lift_off_from_spots() -> None:
    # W1 goes on the pile alone: 145. From a lean a frame is taken at knuckle height.
    house = hut(spots=(pile("P"), lean("L", (0, -8000))))
    for target, height in (("P", 145), ("L", 750)):
        done = replay(house, plan_of(house, f"W1>{target} S1 E1 N1 W1"))
        assert done.kept
        lifts = lifts_of_plan(done, CHOICES)
        assert [lift.does for lift in lifts] == ["set aside", "stand", "stand", "stand", "stand"]
        assert lifts[-1].hands_mm == height
        assert lifts[-1].source == f"spot {target}"


def test_one_lift_by_hand() -> None:
    # 60 kg, three people by a share of 25: 20 kg each. Hands at 415 mm: H 40, V 41.5, D 33.5, two tenths
    # a minute over 8 hours, poor grip: 23 x 25/40 x (1 - .003 x 33.5) x (.82 + 4.5/33.5) x .85 x .90 = 23
    # x .625 x .8995 x .95433 x .765 = 9.44 kg. 20 / 9.44 = 2.12.
    (lift, *_) = lifts_as_delivered(hut(), CHOICES)
    assert lift.people == 3
    assert lift.limit_kg == pytest.approx(9.44, abs=0.005)
    assert lift.index == pytest.approx(2.12, abs=0.005)
    # HSE L23 with 25 kg each: 50 kg is the most for four, so 60 is for a machine.
    assert lift.guided_people is None
    assert lift.for_a_machine == ("more than four people by team guidance",)


def test_the_guidance_goes_by_what_each_could_lift_alone() -> None:
    # 30 kg each: four lift 60 together.
    (lift, *_) = lifts_as_delivered(hut(), LiftChoices(each_kg=30))
    assert lift.guided_people == 4
    assert lift.for_a_machine == ()


def test_a_frame_for_more_people_than_there_are_is_for_a_machine() -> None:
    # 130 kg at 25 each takes 6, and the hut has 4.
    (lift, *_) = lifts_as_delivered(hut(masses={"W1": 130}), LiftChoices(each_kg=100))
    assert lift.for_a_machine == ("6 people by the crew's share, and there are 4",)


def test_a_lift_out_of_reach_has_no_index() -> None:
    lifting = study_lifting(hut(), LiftChoices(reach_mm=700))
    assert "no such lift" in repr(lifting_sheet(lifting))
    assert {lift["index"] for lift in lifting_document(lifting)["lifts"]} == {None}


def test_wind_is_listed_from_the_frame_that_gives_way_first() -> None:
    upright = frames_upright(demo_house("three-bedroom"), CHOICES)
    speeds = [each.wrapped_m_per_s for each in upright]
    assert speeds == sorted(speeds)
    assert all(each.bare_m_per_s > each.wrapped_m_per_s for each in upright)
    assert all(0.1 < each.solidity < 0.5 for each in upright)


def test_a_gust_is_held_against_both_figures() -> None:
    house = demo_house("garden-room")
    upright = frames_upright(house, CHOICES)
    between = (upright[0].wrapped_m_per_s + upright[0].bare_m_per_s) / 2
    for gust, said in (
        (0.5, "the leader decides"),
        (between, "do not stand if wrapped"),
        (30.0, "do not stand"),
    ):
        sheet = lifting_sheet(study_lifting(house, CHOICES, gust_m_per_s=gust))
        row = next(row for row in sheet.sections[2].parts[1].rows if row[0] == upright[0].frame)  # type: ignore[union-attr]
        assert said in row[-1]


@each_demo
def test_every_lift_of_a_demo(demo: str) -> None:
    done = demo_plan(demo)
    lifting = study_lifting(done.job.house, CHOICES, plan=done)
    assert [lift.move for lift in lifting.lifts] == [move.n for move in done.plan.moves]
    for lift, move in zip(lifting.lifts, done.plan.moves, strict=True):
        assert lift.people == move.people
        assert 100 < lift.hands_mm < 2500
        posture = Posture(40, lift.hands_mm / 10, abs(75 - lift.hands_mm / 10))
        assert lift.limit_kg == pytest.approx(recommended_kg(posture))
    sheet = lifting_sheet(lifting)
    assert sheet.cautions[0].startswith("A mass marked est.")
    assert "safe" not in repr(sheet).lower()
