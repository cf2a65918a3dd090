"""Stage 1: the fewest frames that must wait in any order of standing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from packseq.standup.job import Job, ShutOut
from packseq.standup.rules import RULES
from packseq.standup.rules.order import leave_way
from packseq.standup.solver import Answer, Solver
from packseq.standup.states.yard import Yard
from packseq.standup.steps import hint_order
from packseq.standup.variables import Variables
from packseq.standup.ways import shut_outs

STAGE = "extra lifts"
# Deterministic work, in the solver's units (a few seconds of one core to the unit on a large house).
_ORDER_WORK = 40.0
# The work of the first round; one that ends with nothing learnt is followed by one twice as long.
_ROUND_WORK = 1.0
# How many orders of a round are looked through for what shuts frames out, the best of them first.
_LOOKED_THROUGH = 6


@dataclass(frozen=True, slots=True)
class Order:
    """An order of standing, and the frames that wait in it before they are stood."""

    stands: tuple[str, ...]
    aside: frozenset[str]

    @property
    def lifts(self) -> int:
        """The extra lifts of a plan in this order that sets no frame aside twice."""
        return len(self.aside)


@dataclass(frozen=True, slots=True)
class Fewest:
    """The order of standing with the fewest frames that wait, among those that leave every frame a way in.

    `bound` holds for the extra lifts of every plan in this direction, also one that sets a frame
    aside more than once. `job` knows what shuts frames out. `order` is None where there is no such order
    (`possible` is False), or when the work ran out before one was found.
    """

    job: Job
    order: Order | None
    bound: int
    possible: bool = True

    @property
    def settled(self) -> bool:
        """Whether no order has fewer frames wait, or there is none at all."""
        return not self.possible or (self.order is not None and self.order.lifts <= self.bound)


def ruled(job: Job, *, timed: bool) -> Variables:
    """Return the variables of a job with all its rules added."""
    v = Variables(job, timed=timed)
    for name in sorted(job.rules):
        RULES[name](v)
    return v


def fewest_lifts(
    yard: Yard,
    solver: Solver,
    *,
    at_least: int = 0,
    at_most: int | None = None,
    work: float = _ORDER_WORK,
    known: Order | None = None,
    tell: Callable[[int | None, int], None] = lambda _, __: None,
) -> Fewest:
    """Return the fewest extra lifts by the order of standing alone.

    Only the order is modelled: a frame over one that is stood earlier must be set aside, wherever it
    then waits. That bounds every plan from below. Where an order found leaves some frame no way in,
    what shuts it out is added and another order looked for.

    Parameters
    ----------
    yard, solver
        The job, and what solves the model.
    at_least, at_most
        Orders with fewer or more extra lifts are not looked for.
    work
        Deterministic work in all; when it runs out, the best order so far is returned.
    known
        An order that keeps the rules and leaves every frame a way in, with `at_most` extra lifts or fewer.
    tell
        Called after each round with the fewest extra lifts found, and the bound.
    """
    v = order_model(yard.job, at_least, at_most)
    job, best, bound, round_work = yard.job, known, at_least, _ROUND_WORK
    hint = known
    while True:
        if hint is not None:
            hint_order(v, hint.stands, hint.aside)
        answer = solver.solve(v.model, min(round_work, work), side_by_side=True)
        work -= answer.work
        if answer.ending == "infeasible":
            return Fewest(job, None, bound, possible=False)
        bound = max(bound, answer.bound or 0)
        found, fresh = _looked_through(yard, _better(v, answer, best))
        best = found or best
        hint = best or (order_in(v, answer.values) if answer else None)
        tell(None if best is None else best.lifts, bound)
        if (best is not None and best.lifts <= bound) or work <= 0 or solver.clock.left <= 0:
            return Fewest(job, best, bound)
        if not fresh:
            round_work *= 2
            continue
        # What is shut out takes orders away: none with fewer lifts comes back.
        v.model.add(v.extra_lifts >= bound)
        job = replace(job, shut_out=(*job.shut_out, *fresh))
        if any(each.unless_aside and each.frame not in v.job.waiting for each in fresh):
            # Whoever is shut out from its pack may wait inside: the model has to say so from the start.
            v = order_model(job, bound, at_most)
            continue
        for each in fresh:
            leave_way(v, each)


def order_model(job: Job, at_least: int, at_most: int | None) -> Variables:
    """Return the model of the order of standing, with the fewest extra lifts asked for."""
    v = ruled(job, timed=False)
    v.model.add(v.extra_lifts >= at_least)
    if at_most is not None:
        v.model.add(v.extra_lifts <= at_most)
    v.model.minimize(v.extra_lifts)
    return v


def order_in(v: Variables, values: Sequence[int]) -> Order:
    """Return the order that the values of an order model's variables say."""
    answer = Answer("feasible", None, None, tuple(values))
    stands = sorted(v.job.todo, key=lambda frame: answer[v.up[frame]])
    return Order(tuple(stands), frozenset(each for each in v.job.waiting if answer.true(v.aside[each])))


def _better(v: Variables, answer: Answer, known: Order | None) -> Iterator[Order]:
    """Yield the orders of an answer that have fewer frames wait than a known one, the fewest first."""
    found = [answer.values, *reversed(answer.worse)] if answer else []
    for values in found[:_LOOKED_THROUGH]:
        order = order_in(v, values)
        if known is None or order.lifts < known.lifts:
            yield order


def _looked_through(yard: Yard, orders: Iterable[Order]) -> tuple[Order | None, tuple[ShutOut, ...]]:
    """Return the first order that leaves every frame a way in, and what shuts frames out in those before."""
    fresh: dict[ShutOut, None] = {}
    for order in orders:
        shut = tuple(shut_outs(yard, order.stands, order.aside))
        if not shut:
            return order, tuple(fresh)
        fresh.update(dict.fromkeys(shut))
    return None, tuple(fresh)
