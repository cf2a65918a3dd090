"""Stopped or short of time, a search still gives a checked plan or says that there is none yet."""

from __future__ import annotations

import threading

import pytest
from small_house import hut, pile
from standup_jobs import checked, demo

from packseq.errors import LimitError
from packseq.standup.progress import Progress
from packseq.standup.search import plan_standup


@pytest.mark.parametrize("name", ["garden-room", "three-bedroom", "two-level", "l-shaped"])
def test_a_tiny_limit_gives_a_checked_plan_that_claims_nothing_of_walking(name: str) -> None:
    house = demo(name)
    plan = plan_standup(house, limit_s=0.01)
    checked(house, plan)
    assert plan.status == "best found"
    assert {stage.status for stage in plan.stages if stage.name != "extra lifts"} == {"best found"}


def test_stopped_before_it_begins_a_search_gives_the_plan_of_a_crew_without_one() -> None:
    stop = threading.Event()
    stop.set()
    house = demo("garden-room")
    plan = plan_standup(house, limit_s=60, stop=stop)
    checked(house, plan)
    assert plan.status == "best found"


def test_stopped_before_it_begins_with_no_unplanned_way_a_search_says_that_the_limit_was_reached() -> None:
    # N1 and W1 lie on S1, N1 above: a crew that puts them down as they come has the pile the wrong way round.
    house = hut((("N1",), ("W1",), ("S1",), ("E1",)), spots=(pile(holds=1),))
    stop = threading.Event()
    stop.set()
    with pytest.raises(LimitError, match="before any plan"):
        plan_standup(house, limit_s=60, stop=stop)


def test_stopped_half_way_a_search_gives_its_best_plan_so_far() -> None:
    stop = threading.Event()
    heard: list[Progress] = []

    def stop_at_the_first_walk(progress: Progress) -> None:
        heard.append(progress)
        if progress.stage == "walking_mm":
            stop.set()

    house = demo("three-bedroom")
    plan = plan_standup(house, limit_s=60, listener=stop_at_the_first_walk, stop=stop)
    done = checked(house, plan)
    assert done.cost.extra_lifts == 15
    assert plan.status == "best found"
    first_walk = next(progress for progress in heard if progress.stage == "walking_mm")
    assert first_walk.seconds < 30
    # Stopping takes no longer than the solver needs to notice.
    assert heard[-1].seconds - first_walk.seconds < 5


def test_a_listener_hears_values_that_fall_above_bounds_that_hold() -> None:
    heard: list[Progress] = []
    house = demo("garden-room")
    plan = plan_standup(house, limit_s=60, listener=heard.append)
    assert {"extra lifts", "walking_mm"} <= {progress.stage for progress in heard}
    for progress in heard:
        assert progress.value is not None
        assert progress.bound is not None
        assert progress.bound <= progress.value
        assert progress.gap is not None
        assert 0 <= progress.gap <= 1
    seconds = [progress.seconds for progress in heard]
    assert seconds == sorted(seconds)
    least = {stage.name: stage.value for stage in plan.stages}
    assert min(each.value or 0 for each in heard if each.stage == "walking_mm") == least["walking_mm"]


def test_progress_without_a_value_or_at_nothing_has_no_gap_to_tell() -> None:
    assert Progress("walking_mm", None, 3, 0.0).gap is None
    assert Progress("extra lifts", 0, 0, 0.0).gap == 0
    assert Progress("walking_mm", 200, 150, 0.0).gap == 0.25
