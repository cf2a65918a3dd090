"""A bound on walking where there are too many states to look through: the model of the chain of moves."""

from __future__ import annotations

from packseq.plan.build import Step
from packseq.routes.engine import Routes
from packseq.standup.chain import Chain
from packseq.standup.job import Job
from packseq.standup.lifts import ruled
from packseq.standup.solver import Solver
from packseq.standup.steps import hint_steps

_WORK_PER_SECOND = 0.25
"""Deterministic work of the library that a second of one core does, roughly."""


def least_walking(
    job: Job,
    routes: Routes,
    steps: tuple[Step, ...] | None,
    solver: Solver,
    seconds: float,
    *,
    lift_worth_mm: int,
) -> int:
    """Return what every plan of a job costs at least, in mm.

    Each leg is taken by the route that what surely stands by then leaves, so that no plan walks less.

    Parameters
    ----------
    job
        The job; plans that set a frame aside more than once are not in it.
    routes
        How the team walks.
    steps
        A known plan of the job, or None.
    solver, seconds
        What solves, and the work it may do.
    lift_worth_mm
        How much walking an extra lift counts as.
    """
    v = ruled(job, timed=True)
    v.model.minimize(Chain(v, routes).walking + lift_worth_mm * v.extra_lifts)
    if steps is not None:
        hint_steps(v, steps)
    answer = solver.solve(v.model, seconds * _WORK_PER_SECOND, side_by_side=False)
    return max(0, answer.bound or 0)
