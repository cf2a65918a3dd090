"""Stages 2 and 3: the least walking with the extra lifts held, then the fewest breaks with both held."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.plan.build import Step
from packseq.plan.legs import Legs
from packseq.standup.breaks import count_breaks
from packseq.standup.chain import Chain
from packseq.standup.job import Job
from packseq.standup.lifts import ruled
from packseq.standup.progress import Listener
from packseq.standup.solver import Answer, Clock, solve
from packseq.standup.steps import hint_steps, steps_of
from packseq.standup.variables import Expression, Variables


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
    legs: Legs,
    steps: tuple[Step, ...] | None,
    clock: Clock,
    effort: Effort,
    *,
    seed: int,
    listener: Listener | None,
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
    return _minimise(v, cost, stage, clock, effort, seed, listener)


def fewest_breaks(
    found: Found,
    legs: Legs,
    clock: Clock,
    effort: Effort,
    *,
    seed: int,
    listener: Listener | None,
    lift_worth_mm: int = 0,
) -> Found:
    """Return the plan with fewest breaks among those that cost no more than the plan found."""
    if found.value is None or found.steps is None:
        return found
    v = ruled(found.job, timed=True)
    v.model.add(Chain(v, legs).walking + lift_worth_mm * v.extra_lifts <= found.value)
    breaks = count_breaks(v)
    hint_steps(v, found.steps)
    return _minimise(v, breaks, "breaks", clock, effort, seed, listener)


def _minimise(
    v: Variables,
    cost: Expression,
    stage: str,
    clock: Clock,
    effort: Effort,
    seed: int,
    listener: Listener | None,
) -> Found:
    """Find a good plan side by side, then prove it, or better it, from there."""
    model = v.model
    model.minimize(cost)
    first = solve(
        model, clock, stage=stage, seed=seed, work=effort.finding, side_by_side=True, listener=listener
    )
    if first.ending in {"optimal", "infeasible"}:
        return _found(v, first, first.bound)
    if first.value is not None:
        model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in enumerate(first.values):
            model.add_hint(model.get_int_var_from_proto_index(index), value)
        model.add(cost <= first.value)
    best = solve(
        model, clock, stage=stage, seed=seed, work=effort.proving, side_by_side=False, listener=listener
    )
    if best.ending == "infeasible":
        return _found(v, best, None)
    bounds = [answer.bound for answer in (first, best) if answer.bound is not None]
    return _found(v, best or first, max(bounds, default=0))


def _found(v: Variables, answer: Answer, bound: int | None) -> Found:
    steps = steps_of(v, answer) if answer else None
    return Found(v.job, answer.value if answer else None, bound, steps)
