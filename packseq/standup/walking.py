"""Stages 2 and 3: the least walking with the extra lifts held, then the fewest breaks with both held."""

from __future__ import annotations

from dataclasses import dataclass, replace

from packseq.plan.build import Step
from packseq.routes.engine import Routes
from packseq.standup.breaks import breaks_in, count_breaks
from packseq.standup.chain import Chain
from packseq.standup.job import Job
from packseq.standup.lifts import ruled
from packseq.standup.solver import Answer, Solver
from packseq.standup.steps import hint_answer, hint_steps, steps_of
from packseq.standup.variables import Expression, Variables

# Measured: from a gap of a tenth or less one search led by the relaxation proves in seconds; from a
# wide one it hardly betters the plan.
FAR_OFF = 0.12


@dataclass(frozen=True, slots=True)
class Effort:
    """Deterministic work for one stage: finding plans side by side, then proving with one search."""

    finding: float
    proving: float


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan of a stage in one direction.

    `steps` and `value` are None when no plan within the limit given was found; `bound` is then
    None if it is proven that there is none.
    """

    job: Job
    value: int | None
    bound: int | None
    steps: tuple[Step, ...] | None


def least_walking(
    job: Job,
    legs: Routes,
    steps: tuple[Step, ...] | None,
    solver: Solver,
    effort: Effort,
    *,
    lift_worth_mm: int = 0,
    at_most: int | None = None,
) -> Found:
    """Return the plan of a job that walks least.

    With `lift_worth_mm` each extra lift counts as so much walking, and the job must leave the
    number of lifts open. `at_most` looks only for plans that cost no more.
    """
    v = ruled(job, timed=True)
    cost = Chain(v, legs).walking + lift_worth_mm * v.extra_lifts
    if at_most is not None:
        v.model.add(cost <= at_most)
    if steps is not None:
        hint_steps(v, steps)
    stage = "cost_mm" if lift_worth_mm else "walking_mm"
    return _minimise(v, cost, stage, solver, effort)


def fewest_breaks(
    found: Found,
    legs: Routes,
    solver: Solver,
    effort: Effort,
    *,
    lift_worth_mm: int = 0,
) -> Found:
    """Return the plan with fewest breaks among those that cost no more than the plan found.

    Asks again and again for a plan with fewer breaks that costs no more. The walking leads each
    search: its relaxation is tight where that of the breaks alone is loose. When there is none,
    the breaks of the last plan are proven; when the work runs out, the breaks alone are minimised
    for what bound that gives.
    """
    if found.value is None or found.steps is None:
        return found
    most = found.value
    best = Found(found.job, breaks_in(found.job.house, found.steps), 0, found.steps)
    while best.value and solver.clock.left > 0:
        v, breaks, cost = _costed(best, legs, lift_worth_mm, most)
        v.model.add(breaks <= best.value - 1)
        v.model.minimize(cost)
        answer = solver.solve(v.model, None, effort.finding, side_by_side=False)
        if answer.ending == "infeasible":
            return replace(best, bound=best.value)
        if not answer:
            break
        steps = steps_of(v, answer)
        best = replace(best, value=breaks_in(found.job.house, steps), steps=steps)
    if not best.value or solver.clock.left <= 0:
        return best
    v, breaks, _ = _costed(best, legs, lift_worth_mm, most)
    v.model.minimize(breaks)
    answer = solver.solve(v.model, "breaks", effort.proving, side_by_side=False)
    bound = max(0, answer.bound or 0)
    if answer.value is None or answer.value >= best.value:
        return replace(best, bound=min(bound, best.value))
    return Found(best.job, answer.value, bound, steps_of(v, answer))


def _costed(
    known: Found, legs: Routes, lift_worth_mm: int, most: int
) -> tuple[Variables, Expression, Expression]:
    """Return variables, breaks and cost of the plans that cost at most so much, with one hinted."""
    v = ruled(known.job, timed=True)
    chain = Chain(v, legs)
    cost = chain.walking + lift_worth_mm * v.extra_lifts
    v.model.add(cost <= most)
    hint_steps(v, known.steps or ())
    return v, count_breaks(v, chain), cost


def _minimise(v: Variables, cost: Expression, stage: str, solver: Solver, effort: Effort) -> Found:
    """Find a good plan side by side, then prove it; while the proof is far off go on finding better ones."""
    model = v.model
    model.minimize(cost)
    first = solver.solve(model, stage, effort.finding, side_by_side=True)
    if first.ending in {"optimal", "infeasible"}:
        return _found(v, first, first.bound)
    if first.value is not None:
        hint_answer(model, first)
        model.add(cost <= first.value)
    far = first.value is None or first.bound is None or first.value - first.bound > FAR_OFF * first.value
    best = solver.solve(model, stage, effort.proving, side_by_side=far)
    if best.ending == "infeasible":
        return _found(v, best, None)
    bounds = [answer.bound for answer in (first, best) if answer.bound is not None]
    return _found(v, best or first, max(bounds, default=0))


def _found(v: Variables, answer: Answer, bound: int | None) -> Found:
    steps = steps_of(v, answer) if answer else None
    return Found(v.job, answer.value if answer else None, bound, steps)
