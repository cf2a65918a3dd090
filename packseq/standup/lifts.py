"""Stage 1: the fewest frames that must wait in any order of standing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from packseq.standup.job import Job, ShutOut
from packseq.standup.rules import RULES
from packseq.standup.solver import Answer, Solver
from packseq.standup.states.yard import Yard
from packseq.standup.steps import hint_order
from packseq.standup.variables import Variables
from packseq.standup.ways import also_shut_out, shut_outs

STAGE = "extra lifts"
# Deterministic work, in the solver's units (about two seconds of one core to the unit on a large house).
_ORDER_WORK = 40.0
# How many orders of a round are looked through for what shuts frames out, the best of them first.
_LOOKED_THROUGH = 4


@dataclass(frozen=True, slots=True)
class Order:
    """An order of standing, and the frames that wait in it before they are stood."""

    stands: tuple[str, ...]
    aside: frozenset[str]

    @property
    def lifts(self) -> int:
        """The extra lifts of a plan in this order that sets no frame aside twice."""
        return len(self.aside)


def ruled(job: Job, *, timed: bool) -> Variables:
    """Return the variables of a job with all its rules added."""
    v = Variables(job, timed=timed)
    for name in sorted(job.rules):
        RULES[name](v)
    return v


@dataclass(frozen=True, slots=True)
class Round:
    """A question for the solver: an order with at most so many lifts, or the fewest of them.

    `finding` tells that any order with so many will do.
    """

    v: Variables
    at_most: int | None
    finding: bool
    work: float
    solver: Solver

    def answer(self) -> Answer:
        """Return what the solver says; it changes nothing else, so that rounds can be asked side by side."""
        return self.solver.solve(self.v.model, self.work, side_by_side=False, from_below=not self.finding)


class OrderSearch:
    """The search for the order of standing with the fewest frames that wait, round by round.

    Only the order is modelled: a frame over one that is stood earlier must be set aside, wherever it
    then waits. Where an order found leaves some frame no way in, what shuts it out is added and another
    order looked for.

    Attributes
    ----------
    job
        The job; it learns what shuts frames out.
    best
        The order with the fewest frames that wait, of those found that leave every frame a way in.
    bound
        No plan in this direction has fewer extra lifts, not even one that sets a frame aside more than once.
    possible
        False once it is proven that there is no order at all.
    work
        What was done, in the solver's units.
    """

    def __init__(self, yard: Yard, solver: Solver, at_least: int = 0) -> None:
        self.job = yard.job
        self.best: Order | None = None
        self.bound = at_least
        self.possible = True
        self.work = 0.0
        self._yard, self._solver = yard, solver
        self._last: Order | None = None
        self._proven: int | None = None

    def settled(self, at_most: int | None) -> bool:
        """Tell whether it is known which order has the fewest frames wait, if any has `at_most` or fewer."""
        if not self.possible or (at_most is not None and self.bound > at_most):
            return True
        return self.best is not None and self.best.lifts <= self.bound

    def know(self, order: Order) -> None:
        """Take note of an order that keeps the rules and leaves every frame a way in, if it is looked for."""
        if order.lifts >= self.bound and (self.best is None or order.lifts < self.best.lifts):
            self.best = order

    def pass_over(self, lifts: int) -> None:
        """Look from now on for orders with more than so many lifts only."""
        self.bound, self.best, self._proven = lifts + 1, None, None

    def next_round(self, at_most: int | None, work: float) -> Round:
        """Return what to ask next, looking for orders with at most so many lifts."""
        # Proving from below finds the bound soon. Where it rises no more, an order with just so many lifts is
        # found sooner by asking for one.
        finding = self._proven == self.bound
        most = self.bound if finding else at_most
        v = order_model(self.job, self.bound, most)
        if not finding:
            v.model.minimize(v.extra_lifts)
        elif self._last is not None:
            hint_order(v, self._last.stands, self._last.aside)
        return Round(v, most, finding, work, self._solver)

    def learn(self, asked: Round, answer: Answer) -> None:
        """Take note of what came of a round."""
        v = asked.v
        self.work += answer.work
        if answer.ending == "infeasible":
            self._none_with(asked.at_most)
            return
        if answer.ending == "optimal":
            self._proven = self.bound
        self.bound = max(self.bound, answer.bound or 0)
        fresh: dict[ShutOut, None] = {}
        for order in _orders_in(v, answer):
            self._last = self._last if fresh else order
            shut = tuple(shut_outs(self._yard, order.stands, order.aside))
            if not shut:
                self.know(order)
                break
            fresh.update(dict.fromkeys(shut))
        learnt = dict.fromkeys((*self.job.shut_out, *also_shut_out(self._yard, fresh)))
        self.job = replace(self.job, shut_out=tuple(learnt))

    def _none_with(self, at_most: int | None) -> None:
        """Note that no order has so few lifts."""
        if at_most is None:
            self.possible = False
        else:
            self.bound = at_most + 1


def fewest_lifts(yard: Yard, solver: Solver) -> OrderSearch:
    """Return the search for the fewest extra lifts by the order of standing, done as far as its work goes."""
    search = OrderSearch(yard, solver)
    while not search.settled(None) and search.work < _ORDER_WORK and solver.clock.left > 0:
        asked = search.next_round(None, _ORDER_WORK - search.work)
        search.learn(asked, asked.answer())
    return search


def order_model(job: Job, at_least: int, at_most: int | None) -> Variables:
    """Return the model of the order of standing, with bounds on the extra lifts."""
    v = ruled(job, timed=False)
    v.model.add(v.extra_lifts >= at_least)
    if at_most is not None:
        v.model.add(v.extra_lifts <= at_most)
    return v


def order_in(v: Variables, values: Sequence[int]) -> Order:
    """Return the order that the values of an order model's variables say."""
    answer = Answer("feasible", None, None, tuple(values))
    stands = sorted(v.job.todo, key=lambda frame: answer[v.up[frame]])
    return Order(tuple(stands), frozenset(each for each in v.job.waiting if answer.true(v.aside[each])))


def _orders_in(v: Variables, answer: Answer) -> Iterator[Order]:
    """Yield the orders that a solve came to, the best first."""
    found = [answer.values, *reversed(answer.worse)] if answer else []
    for values in found[:_LOOKED_THROUGH]:
        yield order_in(v, values)
