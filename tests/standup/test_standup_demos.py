"""Every demo plans, verifies and beats a crew without a plan; the same plan in every process."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from standup_jobs import checked, demo, stages

from packseq.baseline import by_frame_list, by_nearest
from packseq.check import replay
from packseq.house.model import House
from packseq.standup.progress import Progress
from packseq.standup.search import plan_standup

DEMOS = [("three-bedroom", 15), ("two-level", 16)]
HERE = Path(__file__).parent


def best_unplanned(house: House) -> tuple[int, int]:
    """Return extra lifts and walking of the better of the two crews without a plan."""
    plans = [plan for crew in (by_frame_list, by_nearest) if (plan := crew(house).plan) is not None]
    assert plans
    costs = [replay(house, plan).cost for plan in plans]
    return min((cost.extra_lifts, cost.walking_mm) for cost in costs)


@pytest.mark.parametrize(("name", "lifts"), DEMOS)
def test_a_demo_is_planned_with_its_fewest_extra_lifts_before_walking_is_looked_at(
    name: str, lifts: int
) -> None:
    house = demo(name)
    stop = threading.Event()

    def stop_at_the_first_walk(progress: Progress) -> None:
        if progress.stage == "walking_mm":
            stop.set()

    # The limit is only there to end a hang.
    plan = plan_standup(house, limit_s=300, listener=stop_at_the_first_walk, stop=stop)
    done = checked(house, plan)
    stage = stages(plan)["extra lifts"]
    assert (stage.value, stage.bound, stage.status) == (lifts, lifts, "optimal")
    assert (done.cost.extra_lifts, done.cost.walking_mm) < best_unplanned(house)


@pytest.mark.slow
@pytest.mark.parametrize(("name", "lifts"), DEMOS)
def test_a_demo_is_planned_with_its_least_walking_in_minutes(name: str, lifts: int) -> None:
    house = demo(name)
    plan = plan_standup(house, limit_s=240)
    checked(house, plan)
    assert stages(plan)["extra lifts"].value == lifts
    walking = stages(plan)["walking_mm"]
    assert (walking.status, walking.bound) == ("optimal", walking.value)


PRINT_DEMO = """
import sys
from standup_jobs import demo
from packseq.plan.file import plan_json
from packseq.standup.search import plan_standup
sys.stdout.write(plan_json(plan_standup(demo(sys.argv[1]), limit_s=float(sys.argv[2]))))
"""
PRINT_GENERATED = """
import sys
from generated import generated_scenario
from packseq.house.derive import derive_house
from packseq.plan.file import plan_json
from packseq.standup.search import plan_standup
house = derive_house(generated_scenario(12, seed=3, packs=2))
sys.stdout.write(plan_json(plan_standup(house, limit_s=float(sys.argv[1]))))
"""


def printed(script: str, *arguments: str) -> set[str]:
    """Return the different plans that five processes print, each with its own order of sets."""
    folders = [HERE, HERE.parent, HERE.parent / "benchmarks"]
    return {
        subprocess.run(
            [sys.executable, "-c", script, *arguments],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(map(str, folders))},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2", "3", "4")
    }


def test_the_garden_room_has_the_same_plan_in_every_process() -> None:
    assert len(printed(PRINT_DEMO, "garden-room", "60")) == 1


def test_a_generated_house_has_the_same_plan_in_every_process() -> None:
    assert len(printed(PRINT_GENERATED, "60")) == 1


@pytest.mark.slow
def test_the_three_bedroom_house_has_the_same_plan_in_every_process() -> None:
    assert len(printed(PRINT_DEMO, "three-bedroom", "120")) == 1
