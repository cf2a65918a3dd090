"""Stage 1: the fewest frames that must wait in any order of standing, and which frames they can be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.rules.order import leave_way
from packseq.standup.solver import Answer, Solver
from packseq.standup.states.yard import Yard
from packseq.standup.steps import hint_answer
from packseq.standup.variables import Variables, total
from packseq.standup.ways import shut_outs

STAGE = "extra lifts"
# Deterministic work, in the solver's units (a few seconds of one core to the unit).
_ORDER_WORK = 40.0
_PROBE_WORK = 4.0


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest frames that wait in orders of standing that leave every frame a way in.

    `bound` holds for the extra lifts of every plan in this direction, also one that sets a frame
    aside more than once. `job` is narrowed to plans with `value` extra lifts, and knows what shuts
    frames out; `order` is one such order, in which the frames in `aside` wait. `value` is None where
    there is no such order (`possible` is False), or when the work ran out before the orders were told
    apart.
    """

    job: Job
    value: int | None
    bound: int
    possible: bool = True
    order: tuple[str, ...] = ()
    aside: frozenset[str] = frozenset()


def ruled(job: Job, *, timed: bool) -> Variables:
    """Return the variables of a job with all its rules added."""
    v = Variables(job, timed=timed)
    for name in sorted(job.rules):
        RULES[name](v)
    return v


def fewest_lifts(yard: Yard, solver: Solver, *, at_least: int = 0, at_most: int | None = None) -> Fewest:
    """Return the fewest extra lifts by the order of standing alone.

    Only the order is modelled: a frame over one that is stood earlier must be set aside, wherever it
    then waits. That bounds every plan from below. Where an order found leaves some frame no way in,
    what shuts it out is added and another order looked for.
    """
    v = _orders(yard.job, at_least, at_most)
    known = yard.job.shut_out
    while True:
        answer = solver.solve(v.model, STAGE, _ORDER_WORK, side_by_side=True)
        job = replace(yard.job, shut_out=known)
        if answer.ending == "infeasible":
            return Fewest(job, None, at_least, possible=False)
        bound = max(at_least, answer.bound or 0)
        if answer.ending != "optimal" or answer.value is None:
            return Fewest(job, None, bound)
        order = sorted(job.todo, key=lambda frame: answer[v.up[frame]])
        fresh = tuple(shut_outs(yard, order, _set_aside(v, answer)))
        if not fresh:
            may, must = _where_they_fall(v, answer, answer.value, solver)
            narrowed = job.narrowed(may=may, must=must, lifts=answer.value)
            waits = frozenset(_set_aside(v, answer))
            return Fewest(narrowed, answer.value, bound, order=tuple(order), aside=waits)
        hint_answer(v.model, answer)
        # What is shut out takes orders away: none with fewer lifts comes back.
        v.model.add(v.extra_lifts >= answer.value)
        known += fresh
        if any(each.unless_aside and each.frame not in v.job.waiting for each in fresh):
            # Whoever is shut out from its pack may wait inside: the model has to say so from the start.
            v = _orders(replace(yard.job, shut_out=known), max(at_least, answer.value), at_most)
            continue
        for each in fresh:
            leave_way(v, each)


def _orders(job: Job, at_least: int, at_most: int | None) -> Variables:
    """Return the model of the order of standing, with the fewest extra lifts asked for."""
    v = ruled(job, timed=False)
    v.model.add(v.extra_lifts >= at_least)
    if at_most is not None:
        v.model.add(v.extra_lifts <= at_most)
    v.model.minimize(v.extra_lifts)
    return v


def _where_they_fall(
    order: Variables, first: Answer, fewest: int, solver: Solver
) -> tuple[frozenset[str] | None, frozenset[str]]:
    """Return the frames set aside in some, and in every, order with the fewest extra lifts.

    Asks again and again for such an order that differs as much as can be from those seen. None
    for the first set when the work ran out before it was complete.
    """
    model, waiting = order.model, order.job.waiting
    model.add(order.extra_lifts <= fewest)
    some = every = frozenset(_set_aside(order, first))
    hint_answer(model, first)
    while True:
        fresh = [frame for frame in waiting if frame not in some]
        model.maximize(
            total(order.aside[frame] for frame in fresh)
            - total(order.aside[frame] for frame in sorted(every))
        )
        other = solver.solve(model, None, _PROBE_WORK, side_by_side=False)
        if other.ending != "optimal":
            return None, frozenset()
        found = frozenset(_set_aside(order, other))
        if found <= some and every <= found:
            return some, every
        some, every = some | found, every & found


def _set_aside(v: Variables, answer: Answer) -> Iterator[str]:
    return (frame for frame in v.job.waiting if answer.true(v.aside[frame]))
