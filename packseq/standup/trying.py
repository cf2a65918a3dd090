"""What the model leaves out, by trying: frames set aside more than once, and on top of packs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packseq.check.rules import RULES as CHECKED
from packseq.plan.model import Plan
from packseq.scenario.landing import landings
from packseq.standup.conflict import refuse_as_tried, refuse_without_plan
from packseq.standup.found import PlanWriter
from packseq.standup.freeing import HasPlan
from packseq.standup.job import Job
from packseq.standup.jobs import one_a_landing
from packseq.standup.solver import Solver
from packseq.standup.states.legtable import LegTable
from packseq.standup.tight.fewest import ByStates, fewest_by_states

# Besides the two that depend on where packs lie: whether the wall stands that a lean rests on.
_BY_WAYS = ("way-in", "ground-clear", "spot-room")


@dataclass(frozen=True)
class Tried:
    """A plan found by trying, or None, its extra lifts, and how many every plan has at least."""

    plan: Plan | None
    lifts: int
    bound: int


@dataclass(frozen=True)
class _Attempt:
    """One landing tried: what the search over states says, and its plan if that keeps every rule."""

    job: Job
    found: ByStates
    plan: Plan | None


def plan_by_trying(
    jobs: tuple[Job, ...],
    legs: LegTable,
    writer: PlanWriter,
    solver: Solver,
    *,
    limit_s: float,
    has_plan: HasPlan,
) -> Tried:
    """Return a plan with few extra lifts, whatever is set aside and how often.

    First without the rules that depend on where packs lie: what that proves holds for every landing. Where
    its plan breaks one of those, each landing is tried with them.

    Raises
    ------
    NoPlanError
        It is proven that no plan keeps the rules, or nothing is left to try with the spots proposed.
    """
    landed = one_a_landing(jobs)
    given = jobs[0].spots == jobs[0].scenario.spots
    left_out = landings(jobs[0].scenario).left_out
    bound = 0
    for further in ((), _BY_WAYS):
        # Where the scenario has spots of its own, only what keeps the frames' ways depends on the landing.
        once = not further and given
        asked = landed[:1] if once else landed
        tried = [_attempt(job, further, writer, solver, limit_s / len(asked)) for job in asked]
        if given and (once or not left_out):
            # A landing that is proven to have no plan bounds nothing.
            bounds = [each.found.bound for each in tried if not _has_none(each)]
            bound = max(bound, min(bounds, default=0))
        if all(_has_none(each) for each in tried) and (once or not left_out):
            refuse_without_plan(jobs, legs, solver, has_plan)
            refuse_as_tried(landed[0], further, has_plan)
        best = min(_plans(tried), key=lambda each: each.lifts, default=None)
        if best is not None:
            return Tried(best.plan, best.lifts, bound)
    return Tried(None, bound, bound)


def _attempt(
    job: Job, further: Sequence[str], writer: PlanWriter, solver: Solver, limit_s: float
) -> _Attempt:
    found = fewest_by_states(
        job.house,
        spots=job.spots,
        places=job.places,
        further={name: CHECKED[name] for name in further},
        blocks=(lambda _: True) if further else None,
        limit_s=limit_s,
        stop=solver.clock.stop,
    )
    plan = None if found.steps is None else writer.built(job, found.steps)
    return _Attempt(job, found, plan if plan is not None and writer.replayed(plan).kept else None)


def _has_none(tried: _Attempt) -> bool:
    return tried.found.steps is None and tried.found.proven


def _plans(tried: Sequence[_Attempt]) -> Iterator[Tried]:
    for each in tried:
        if each.plan is not None and each.found.extra_lifts is not None:
            yield Tried(each.plan, each.found.extra_lifts, 0)
