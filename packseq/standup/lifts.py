"""Stage 1: the fewest extra lifts, and which frames they can fall on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from packseq.plan.build import Step
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.solver import Answer, Solver
from packseq.standup.steps import hint_answer, steps_of
from packseq.standup.variables import Variables, total

STAGE = "extra lifts"
# Deterministic work, in the solver's units (a few seconds of one core to the unit).
_ORDER_WORK = 40.0
_PROBE_WORK = 4.0
_SPOTS_WORK = 20.0


@dataclass(frozen=True, slots=True)
class Fewest:
    """The fewest extra lifts found for a job.

    `bound` holds for every plan in this direction, also one that sets a frame aside more than
    once. `job` is narrowed to plans with `value` extra lifts; `steps` is such a plan, None
    when the work ran out before one was found.
    """

    job: Job
    value: int | None
    bound: int
    steps: tuple[Step, ...] | None

    @property
    def proven(self) -> bool:
        """Tell whether no plan in this direction has fewer extra lifts."""
        return self.value == self.bound


def ruled(job: Job, *, timed: bool) -> Variables:
    """Return the variables of a job with all its rules added."""
    v = Variables(job, timed=timed)
    for name in sorted(job.rules):
        RULES[name](v)
    return v


def fewest_lifts(job: Job, solver: Solver, *, at_most: int | None = None) -> Fewest | None:
    """Return the fewest extra lifts of a job, or None when no plan has at most `at_most` of them.

    First only the order of standing is modelled: a frame over one that is stood earlier must be
    set aside, wherever it then waits. That bounds every plan from below. Then spots are found for
    just so many; only if there is no room is the full model minimised.
    """
    order = ruled(job, timed=False)
    if at_most is not None:
        order.model.add(order.extra_lifts <= at_most)
    order.model.minimize(order.extra_lifts)
    fewest = solver.solve(order.model, STAGE, _ORDER_WORK, side_by_side=True)
    if fewest.ending == "infeasible":
        return None
    bound = max(0, fewest.bound or 0)
    if fewest.value is None:
        return Fewest(job, None, bound, None)
    if fewest.ending == "optimal":
        may, must = _where_they_fall(order, fewest, fewest.value, solver)
        exact = job.narrowed(may=may, must=must, lifts=fewest.value)
        v = ruled(exact, timed=True)
        hint_order(v, fewest, order)
        placed = solver.solve(v.model, None, _SPOTS_WORK, side_by_side=False)
        if placed:
            return Fewest(exact, fewest.value, bound, steps_of(v, placed))
    v = ruled(job, timed=True)
    hint_order(v, fewest, order)
    if at_most is not None:
        v.model.add(v.extra_lifts <= at_most)
    return _with_spots(v, bound, solver)


def _with_spots(v: Variables, bound: int, solver: Solver) -> Fewest:
    """Minimise with spots in the model: the order alone was not proven, or the spots lack room for it.

    Where even that has no plan, one that sets a frame aside twice may still do with as few as `bound`.
    """
    v.model.add(v.extra_lifts >= bound)
    v.model.minimize(v.extra_lifts)
    best = solver.solve(v.model, STAGE, _ORDER_WORK, side_by_side=True)
    if best.value is None:
        return Fewest(v.job, None, bound, None)
    exact = v.job.narrowed(may=None, must=frozenset(), lifts=best.value)
    return Fewest(exact, best.value, bound, steps_of(v, best))


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


def hint_order(v: Variables, answer: Answer, known: Variables) -> None:
    """Hint the order of standing found with other variables of the same house."""
    for frame in v.job.frames:
        v.model.add_hint(v.up[frame], answer[known.up[frame]])
