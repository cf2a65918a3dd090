"""Going on from the middle of the job: what the planner makes of it, and what it claims."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import takewhile
from pathlib import Path

import pytest
from day_houses import AT, busy_room
from small_house import hut, lean, pile

from packseq.baseline import by_frame_list
from packseq.check import replay
from packseq.day.events import (
    CrewNow,
    Damaged,
    Event,
    Found,
    InHeap,
    Landed,
    Missing,
    OnHeap,
    SetAside,
    Stood,
)
from packseq.day.goingon import go_on
from packseq.day.journal import Noted
from packseq.day.names import names_of
from packseq.day.present import present_state
from packseq.day.replanned import Replanned
from packseq.day.site import site_of
from packseq.errors import LimitError, NoPlanError
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.scenario.model import StandChoices
from packseq.scenario.read import read_scenario
from packseq.standup.search import plan_standup

SCENARIOS = Path(__file__).parents[2] / "scenarios"
ONE_WAY = StandChoices(direction="anticlockwise")


def gone_on(house: House, *events: Event, old: Plan | None = None, limit_s: float = 30) -> Replanned:
    lines = [Noted(row, event) for row, event in enumerate(events, 1)]
    now = present_state(house, names_of(house, old), old, lines)
    made = go_on(site_of(now, old, lines), limit_s=limit_s)
    assert replay(house, made.done.plan).violations == ()
    return made


def moves(made: Replanned) -> str:
    return " ".join(
        move.frame if move.to is None else f"{move.frame}>{move.to.spot or move.to.pack}"
        for move in made.done.plan.moves
    )


def stood(frame: str) -> Stood:
    return Stood(at=AT, frame=frame)


def aside(frame: str, spot: str) -> SetAside:
    return SetAside(at=AT, frame=frame, to=OnHeap(spot=spot))


def test_what_waits_in_a_pile_in_the_wrong_order_is_set_aside_once_more() -> None:
    # One way anticlockwise: S1 E1 N1 W1. On pile P lie, from the bottom, E1, N1, W1: E1 comes first, so
    # W1 and N1 must move over to the lean: 2 extra lifts, and none fewer, for both lie on E1.
    house = hut(spots=(pile("P"), lean("L", (11000, 0))), stand=ONE_WAY)
    made = gone_on(house, aside("W1", "L"), stood("S1"), aside("E1", "P"), aside("N1", "P"), aside("W1", "P"))
    assert made.done.cost.extra_lifts == 2
    assert moves(made) == "W1>L N1>L E1 N1 W1"
    assert made.done.plan.status == "optimal"


def test_what_lies_on_a_spot_takes_room_there() -> None:
    # The lean holds one and has N1 on it: W1, above S1 in pack A, goes on the pile, however far that is.
    house = hut(spots=(lean("L", (11000, 0), holds=1), pile("P", (-30_000, 0))), stand=ONE_WAY)
    made = gone_on(house, aside("N1", "L"))
    assert moves(made) == "W1>P S1 E1 N1 W1"


def test_a_frame_left_out_is_set_aside_where_it_lies_in_the_way_and_only_there() -> None:
    # Pack A from the top: W1 / S1 / E1 / N1. W1 is damaged and lies on all others.
    house = hut(spots=(pile("P"),), stand=ONE_WAY)
    made = gone_on(house, Damaged(at=AT, frame="W1"))
    assert moves(made) == "W1>P S1 E1 N1"
    assert made.done.plan.status == "optimal"
    # N1 is damaged too, at the bottom: it stays where it is. W1 cannot follow it in the lap.
    made = gone_on(house, Damaged(at=AT, frame="N1"))
    assert moves(made) == "W1>P S1 E1"


def test_the_lap_goes_on_in_the_direction_in_which_it_was_begun() -> None:
    made = gone_on(hut((("S1", "E1", "N1", "W1"),)), stood("S1"), stood("W1"))
    assert moves(made) == "N1 E1"
    assert made.done.plan.direction == "clockwise"


def test_the_old_order_is_kept_where_no_other_is_better() -> None:
    house = busy_room()
    old = gone_on(house).done.plan
    first = old.moves[0]
    assert first.to is None or first.to.spot is not None
    event: Event = stood(first.frame) if first.to is None else aside(first.frame, first.to.spot or "")
    again = gone_on(house, event, old=old)
    assert again.rest is not None
    assert again.rest.done.kept
    assert again.done.cost.extra_lifts <= again.rest.done.cost.extra_lifts


@pytest.mark.parametrize("events", [(), (stood("S1"),), (Missing(at=AT, frame="I1"),)])
def test_the_same_day_gives_the_same_plan(events: tuple[Event, ...]) -> None:
    house = busy_room()
    assert gone_on(house, *events).done.plan == gone_on(house, *events).done.plan


def test_a_day_that_is_stuck_says_where_and_by_which_rule() -> None:
    # Nothing may wait anywhere, and W1 lies on S1, which is first.
    with pytest.raises(LimitError) as caught:
        gone_on(hut(stand=ONE_WAY), CrewNow(at=AT, people=3))
    assert "stuck with 0 of 4 frames stood: no way to get at S1" in str(caught.value)
    assert "spot-room" in str(caught.value)


def test_a_pack_across_a_line_stops_the_day_by_the_rule_on_ground() -> None:
    # Pack A lands where N1 is to stand, W1 still lies in it and comes after N1, and nothing may wait.
    house = hut((("S1", "E1", "N1", "W1"),), stand=ONE_WAY)
    landed = Landed(at=AT, pack="A", at_mm=(3000, 8000), bearing_deg=0)
    with pytest.raises(LimitError, match="ground-clear"):
        gone_on(house, landed, stood("S1"), stood("E1"))


def test_nothing_that_may_be_stood_is_no_plan() -> None:
    with pytest.raises(NoPlanError):
        gone_on(hut(), *(Missing(at=AT, frame=name) for name in ("S1", "E1", "N1", "W1")))


def test_a_frame_found_again_is_stood_from_where_it_lies() -> None:
    house = hut((("S1", "E1", "N1"), ("W1",)), spots=(pile("P"),), stand=ONE_WAY)
    found = Found(at=AT, frame="E1", where=InHeap(spot="P"))
    made = gone_on(house, Missing(at=AT, frame="E1"), stood("S1"), found)
    assert [str(move.origin) for move in made.done.plan.moves] == [
        "spot P",
        "pack A layer 1",
        "pack A layer 2",
    ]


@cache
def three_bedroom() -> tuple[House, Plan]:
    house = derive_house(read_scenario(SCENARIOS / "three-bedroom"))
    plan = by_frame_list(house).plan
    assert plan is not None
    return house, plan


def test_the_three_bedroom_house_half_way_is_proven() -> None:
    house, plan = three_bedroom()
    done = plan.moves[:60]
    events = [
        stood(move.frame) if move.to is None else aside(move.frame, move.to.spot or "") for move in done
    ]
    made = gone_on(house, *events)
    assert len(made.now.state.stood) == 23
    assert made.done.plan.status == "optimal"


def test_a_spot_that_the_old_plan_proposed_is_still_told_why_it_is_there() -> None:
    scenario = read_scenario(SCENARIOS / "garden-room")
    house = derive_house(replace(scenario, spots={}))
    old = plan_standup(house, limit_s=10)
    before = list(takewhile(lambda move: move.do == "set aside", old.moves))
    # Some spot has all of its frames by the first stand: nothing more is put on it.
    later = {move.to.spot for move in old.moves[len(before) :] if move.to is not None}
    assert {move.to.spot for move in before if move.to is not None} - later
    events = [SetAside(at=AT, frame=move.frame, to=OnHeap(spot=move.to.spot)) for move in before if move.to]
    new = gone_on(house, *events, old=old, limit_s=10).done.plan
    assert {spot.name: spot.why for spot in new.spots} == {spot.name: spot.why for spot in old.spots}
    assert all(spot.why and "from where" in spot.why for spot in new.spots)
