"""What may be stood next, as bits, against the check's own rules on states that it lets come about."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from drawn_houses import houses
from hypothesis import given, settings
from hypothesis import strategies as st
from small_house import site_wall, two_floors
from walled_houses import walled_houses

from packseq.check.job import Job as CheckedJob
from packseq.check.job import Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import State
from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes
from packseq.scenario.model import Lap
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.states.bits import Numbered
from packseq.standup.states.order import StandOrder

DIRECTIONS: st.SearchStrategy[LapDirection] = st.sampled_from(["anticlockwise", "clockwise"])


def allowed_by_the_check(job: CheckedJob, state: State) -> set[str]:
    frames = job.house.scenario.frames.values()
    return {
        frame.name
        for frame in frames
        if frame.name not in state.standing
        and not list(
            broken_rules(
                Lift(job, state, frame, state.lies[frame.name], None, 4, None),
                ORDER_RULES,
            )
        )
    }


def hold_against_the_check(house: House, direction: LapDirection, data: st.DataObject) -> None:
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    numbered = Numbered(list(scenario.frames))
    order = StandOrder(Job(house, direction, scenario.spots, places, frozenset(RULES)), numbered)
    # The rules of order ask for no routes.
    job = CheckedJob(house, scenario.spots, places, direction, Routes({}))
    state = job.beginning
    while len(state.stood) < len(scenario.frames):
        rows = numbered.mask(state.stood)[np.newaxis]
        left = [name for name in scenario.frames if name not in state.standing]
        allowed = allowed_by_the_check(job, state)
        assert {name for name in left if order.may_stand(name, rows)[0]} == allowed
        for name in left:
            level = scenario.frames[name].level
            lower = [each.name for each in scenario.frames.values() if each.level < level]
            assert order.floor_is_there(name, rows)[0] == state.standing.issuperset(lower)
        if not allowed:
            return
        state = state.after(data.draw(st.sampled_from(sorted(allowed))), None)


@given(st.one_of(houses(), walled_houses()), DIRECTIONS, st.data())
@settings(max_examples=60, deadline=None)
def test_what_may_be_stood_next_is_what_the_check_allows(
    house: House, direction: LapDirection, data: st.DataObject
) -> None:
    hold_against_the_check(house, direction, data)


@pytest.mark.parametrize("lap", ["one-way", "both-ways", "free"])
@given(direction=DIRECTIONS, data=st.data())
@settings(max_examples=10, deadline=None)
def test_site_walls_and_floors_too(lap: Lap, direction: LapDirection, data: st.DataObject) -> None:
    for house in (site_wall(), two_floors()):
        stand = replace(house.scenario.stand, lap=lap)
        hold_against_the_check(replace(house, scenario=replace(house.scenario, stand=stand)), direction, data)
