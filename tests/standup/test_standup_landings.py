"""Several landings: no plan is said only of all of them, and what is left out proves nothing."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest
from small_house import HUT_ROUND, hut, lean, pack
from standup_jobs import checked, demo, stages

from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.scenario.model import Place, StandChoices
from packseq.standup.search import plan_standup

ANTICLOCKWISE = StandChoices(direction="anticlockwise")
SHORT = replace(lean(at=(0, -12_000)), size_mm=(1000.0, 1000.0))
ACROSS, GIVEN = (900.0, 0.0), (900.0, -2200.0)


def tight_site(*places: tuple[float, float]) -> House:
    """Return the demo, its pack A with these places; at `ACROSS` it lies on the reference wall."""
    house = demo("tight-site")
    packs = dict(house.scenario.packs)
    packs["A"] = replace(packs["A"], places=tuple(Place(at, 0.0) for at in places))
    return replace(house, scenario=replace(house.scenario, packs=packs))


def test_a_plan_is_found_by_trying_where_only_the_second_landing_has_one() -> None:
    # Across S1 and S2 pack A must be emptied before either stands; I2, S1, S2 and I1 would have to go on B,
    # which has room for two. At its own place the demo needs 4 extra lifts.
    house = tight_site(ACROSS, GIVEN)
    plan = plan_standup(house, limit_s=30)
    assert checked(house, plan).cost.extra_lifts == 4
    assert plan.places["A"] == (*GIVEN, 0.0)


def test_where_no_landing_has_a_plan_that_is_said_and_no_limit_is_blamed() -> None:
    further = (900.0, 90.0)
    with pytest.raises(NoPlanError) as caught:
        plan_standup(tight_site(ACROSS, further), limit_s=120)
    (conflict,) = caught.value.conflicts
    assert "ground-clear" in conflict.rules


def with_many_places(house: House, name: str) -> House:
    """Return a house of which a pack has 13 places: one more than are searched."""
    (first,) = house.scenario.packs[name].places
    places = tuple(Place((first.at[0], first.at[1] - 10.0 * step), first.bearing_deg) for step in range(13))
    packs = {**house.scenario.packs, name: replace(house.scenario.packs[name], places=places)}
    return replace(house, scenario=replace(house.scenario, packs=packs))


def test_nothing_is_called_proven_where_landings_are_left_out() -> None:
    house = with_many_places(hut(spots=(lean(at=(0, -12_000)),)), "A")
    plan = plan_standup(house, limit_s=20)
    checked(house, plan)
    assert plan.status == "best found"
    # W1 lies on S1, which is stood first: that holds wherever the pack lands.
    assert stages(plan)["extra lifts"].status == "optimal"
    assert stages(plan)["walking_mm"].status == "best found"


def test_what_no_landing_can_help_is_said_though_landings_are_left_out() -> None:
    # W1, on top, must wait and fits no spot, wherever the pack lands.
    house = with_many_places(hut(spots=(SHORT,), stand=ANTICLOCKWISE), "A")
    with pytest.raises(NoPlanError) as caught:
        plan_standup(house, limit_s=20)
    (conflict,) = caught.value.conflicts
    assert "spot-room" in conflict.rules


def test_where_a_landing_left_out_has_a_plan_it_is_not_said_that_there_is_none() -> None:
    # Anticlockwise S1, E1, N1, W1 come off in the order of the pack. At 12 places it lies across S1, so all
    # others would have to wait, and no spot takes them. At the last, 60 m off, it is clear.
    first = pack("A", (3000, 0), [[name] for name in HUT_ROUND])
    places = (*(Place((3000.0 + 10 * step, 0.0), 0.0) for step in range(12)), Place((0.0, -60_000.0), 0.0))
    house = hut(packs=(replace(first, places=places),), spots=(SHORT,), stand=ANTICLOCKWISE)
    with pytest.raises(LimitError, match="there are more"):
        plan_standup(house, limit_s=20)


def test_spots_proposed_are_blamed_as_such_where_they_have_no_room() -> None:
    # A no-go ring round the pack leaves no ground for any spot; W1 must wait.
    house = hut(
        packs=(pack("A", (0, -20_000), (("W1",), HUT_ROUND[:3])),),
        stand=ANTICLOCKWISE,
    )
    far = 100_000.0
    ground = (
        ((-far, -far), (far, -far), (far, -21_300), (-far, -21_300)),
        ((-far, -18_700), (far, -18_700), (far, far), (-far, far)),
    )
    with pytest.raises(NoPlanError) as caught:
        plan_standup(replace(house, scenario=replace(house.scenario, no_go=ground)), limit_s=10)
    assert caught.value.conflicts


def test_a_stopped_search_has_the_crew_of_the_landing_where_none_gets_stuck() -> None:
    stop = threading.Event()
    stop.set()
    house = tight_site(ACROSS, GIVEN)
    plan = plan_standup(house, limit_s=30, stop=stop)
    checked(house, plan)
    assert plan.places["A"] == (*GIVEN, 0.0)
