"""Which frames can wait at all where as few as can be do: what keeps the states of a job few."""

from __future__ import annotations

from packseq.standup.job import Job
from packseq.standup.lifts import Order, order_in, order_model
from packseq.standup.solver import Solver
from packseq.standup.steps import hint_order
from packseq.standup.variables import total

# Deterministic work for each question, in the solver's units.
_PROBE_WORK = 1.0


def narrowed(job: Job, order: Order, solver: Solver) -> Job:
    """Return the job for plans with as few extra lifts as an order, the fewest there are.

    Asks again and again for an order with so few that differs as much as can be from those seen, until
    the frames set aside in some of them, and in every one, are known. All may be in some when the work
    runs out before.
    """
    if order.lifts == len(job.surely_waiting):
        return job.narrowed(may=job.surely_waiting, must=job.surely_waiting, lifts=order.lifts)
    v = order_model(job, order.lifts, order.lifts)
    hint_order(v, order.stands, order.aside)
    some = every = order.aside
    while True:
        fresh = [frame for frame in v.job.waiting if frame not in some]
        v.model.maximize(
            total(v.aside[frame] for frame in fresh) - total(v.aside[frame] for frame in sorted(every))
        )
        answer = solver.solve(v.model, _PROBE_WORK, side_by_side=False)
        if answer.ending != "optimal":
            return job.as_few_as(order.lifts)
        found = order_in(v, answer.values).aside
        if found <= some and every <= found:
            return job.narrowed(may=some, must=every, lifts=order.lifts)
        some, every = some | found, every & found
