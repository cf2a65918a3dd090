"""What the model leaves out, by trying: frames set aside more than once, and on top of packs."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from packseq.check.rules import RULES as CHECKED
from packseq.check.rules import Rule
from packseq.plan.model import Plan
from packseq.standup.conflict import refuse_as_tried, refuse_without_plan
from packseq.standup.found import PlanWriter
from packseq.standup.freeing import HasPlan
from packseq.standup.job import Job
from packseq.standup.solver import Solver
from packseq.standup.states.legtable import LegTable
from packseq.standup.tight.fewest import fewest_by_states

_BY_WAYS = ("way-in", "ground-clear")


@dataclass(frozen=True)
class Tried:
    """A plan found by trying, or None, its extra lifts, and how many every plan has at least."""

    plan: Plan | None
    lifts: int
    bound: int


def plan_by_trying(
    jobs: tuple[Job, ...],
    legs: LegTable,
    writer: PlanWriter,
    solver: Solver,
    *,
    limit_s: float,
    has_plan: HasPlan,
) -> Tried:
    """Return a plan with few extra lifts from the first landing, whatever is set aside and how often.

    Raises
    ------
    NoPlanError
        It is proven that no plan keeps the rules.
    """
    job = jobs[0]
    bound = 0
    asked: tuple[Mapping[str, Rule], ...] = ({}, {name: CHECKED[name] for name in _BY_WAYS})
    for further in asked:
        tried = fewest_by_states(
            job.house,
            spots=job.spots,
            places=job.places,
            further=further,
            blocks=(lambda _: True) if further else None,
            limit_s=limit_s,
            stop=solver.clock.stop,
        )
        every = _holds_for_every_plan(jobs, further)
        if every:
            bound = max(bound, tried.bound)
        if tried.steps is None or tried.extra_lifts is None:
            if tried.proven and every:
                refuse_without_plan(jobs, legs, solver, has_plan)
                refuse_as_tried(job, further, has_plan)
            break
        plan = writer.built(job, tried.steps)
        if writer.replayed(plan).kept:
            return Tried(plan, tried.extra_lifts, bound)
    return Tried(None, bound, bound)


def _holds_for_every_plan(jobs: tuple[Job, ...], further: Collection[str]) -> bool:
    """Tell whether what is tried from the first landing holds for every plan there is.

    Only what keeps the frames' ways depends on where packs lie, and spots proposed depend on it too.
    """
    job = jobs[0]
    landed_once = all(other.places == job.places for other in jobs)
    return job.spots == job.scenario.spots and (landed_once or not further)
