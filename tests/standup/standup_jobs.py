"""Demo houses, and single rules of the model asked about one line of steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ortools.sat.python import cp_model
from small_house import steps

from packseq.check import replay
from packseq.check.replay import Replay
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.model import LapDirection, Plan, StageResult
from packseq.scenario.model import Direction
from packseq.scenario.read import read_scenario
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.variables import Variables

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def demo(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))


def told(house: House, direction: Direction) -> House:
    """Return the house with its direction chosen."""
    stand = replace(house.scenario.stand, direction=direction)
    return replace(house, scenario=replace(house.scenario, stand=stand))


def job_of(house: House, rules: Sequence[str], direction: LapDirection = "anticlockwise") -> Job:
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    return Job(house, direction, scenario.spots, places, frozenset(rules))


def allows(house: House, rule: str, text: str, direction: LapDirection = "anticlockwise") -> bool:
    """Tell whether one rule of the model alone takes a line of steps, each at its own place.

    Which spot a frame waits on is only known to spot-room.
    """
    v = Variables(job_of(house, [rule], direction))
    RULES[rule](v)
    waited = set()
    for rank, step in enumerate(steps(text)):
        if step.do == "stand":
            v.model.add(v.up[step.frame] == rank)
            continue
        waited.add(step.frame)
        v.model.add(v.off[step.frame] == rank)
        if rule == "spot-room":
            v.model.add(v.at[step.frame, step.to_spot or ""] == 1)
    for frame in v.job.frames:
        v.model.add(v.aside[frame] == (frame in waited))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(v.model)
    assert status in {cp_model.OPTIMAL, cp_model.INFEASIBLE}
    return bool(status == cp_model.OPTIMAL)


def stages(plan: Plan) -> dict[str, StageResult]:
    return {stage.name: stage for stage in plan.stages}


def checked(house: House, plan: Plan) -> Replay:
    """Return the replay of a plan that keeps every rule and states nothing that is not so."""
    done = replay(house, plan)
    assert done.violations == ()
    for stage in plan.stages:
        assert stage.bound <= stage.value
    return done
