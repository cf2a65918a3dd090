"""One direction and landing: the fewest extra lifts it needs, and the search over plans with as few."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from packseq.standup.bounds import model_is_whole
from packseq.standup.found import Found
from packseq.standup.job import Job
from packseq.standup.lifts import Fewest, Order, fewest_lifts
from packseq.standup.solver import Solver
from packseq.standup.states.best import CUT_WIDTH, Prospect, open_cut, open_prospect
from packseq.standup.states.guide import guide_of
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.yard import Yard
from packseq.standup.survey import survey
from packseq.standup.waiting import narrowed

_FINDING_ROUNDS = 4
# States of each layer that are kept in looking for a plan close to an order.
_CLOSE = 30
# Deterministic work that may go into the order of standing, in the solver's units: at first, and when that
# did not settle it, for each second of the limit.
_FIRST_WORK = 2.0
_WORK_PER_SECOND = 0.08


class Front:
    """A job being searched for plans with fewest extra lifts.

    Attributes
    ----------
    job
        The job; it learns what shuts frames out.
    bound
        No plan has fewer extra lifts, not even one that sets a frame aside more than once.
    lifts
        How many extra lifts the plans being searched have.
    found
        A plan with so many, None before and when there is none.
    possible
        False once it is proven that no plan keeps the rules of order.
    settled
        False once the work has run out before it was known which order has the fewest.
    """

    def __init__(self, job: Job, legs: LegTable, solver: Solver, scale: Scale, limit_s: float) -> None:
        self.job = job
        self.bound = self.lifts = len(job.surely_waiting)
        self.found: Found | None = None
        self.possible = self.settled = True
        self._legs, self._solver, self._scale = legs, solver, scale
        self._work = max(_FIRST_WORK, _WORK_PER_SECOND * limit_s)
        self._waiting: int | None = None
        self._least = self.lifts
        self._order: Order | None = None
        self._prospect: Prospect | None = None

    @property
    def once(self) -> bool:
        """Tell that no plan with so few lifts sets a frame aside twice: the states have every one."""
        return self._waiting is not None and self.lifts <= self._waiting

    def settle(self, at_most: int | None, tell: Callable[[int | None, int], None]) -> None:
        """Search until there is a plan with the fewest extra lifts, or none with at most `at_most`.

        `tell` is called now and then with the fewest lifts of an order found, and the bound.
        """
        while not self._stopped():
            order = self._fewest(at_most, tell)
            if order is None:
                return
            self.lifts, self._order = order.lifts, order
            self.found = self._close_to(order)
            if self.found is not None:
                return
            prospect, whole = self._open(order)
            if prospect is None:
                self._rule_out(whole=whole)
                continue
            for _ in range(_FINDING_ROUNDS):
                prospect.go_on(int(FAR), self._stopped)
                if prospect.cost is not None or self._stopped() or prospect.bound >= FAR:
                    break
            if prospect.bound >= FAR and prospect.cost is None:
                self._rule_out(whole=whole)
                continue
            self._prospect = prospect
            if prospect.cost is not None:
                self.found = Found(prospect.yard.job, prospect.steps, prospect.cost)
            return

    def prospect(self) -> Prospect | None:
        """Return the search over all plans with so few lifts, None if no order has so few."""
        if self._prospect is None and self._order is not None:
            self._prospect, _ = self._open(self._order)
            self._order = None
        return self._prospect

    def _stopped(self) -> bool:
        return self._solver.clock.left <= 0

    def _rule_out(self, *, whole: bool) -> None:
        """Note that the spots have room for no plan with so few lifts."""
        if whole and self.once and self.lifts == self.bound and model_is_whole(self.job.house):
            # As many frames wait at least as such a plan has lifts: it would set none aside twice.
            self.bound += 1
        self._least, self._order = self.lifts + 1, None

    def _fewest(self, at_most: int | None, tell: Callable[[int | None, int], None]) -> Order | None:
        """Return the order with the fewest lifts that leaves every frame a way in, None if none is found."""
        fewest = self._ordered(at_most, _FIRST_WORK, None, tell)
        if not fewest.settled and not self._stopped():
            most = len(self.job.frames) if at_most is None else at_most
            most = most if fewest.order is None else fewest.order.lifts - 1
            seen = survey(Yard(self.job, self._legs), most, self._stopped)
            fewest = self._ordered(at_most, self._work, seen or fewest.order, tell)
        self.settled = fewest.settled
        if not fewest.possible:
            if self._waiting is None:
                self.possible, self.bound = at_most is not None, (at_most or 0) + 1
            return None
        if self._waiting is None:
            self._waiting = self.bound = fewest.bound
        return fewest.order

    def _ordered(
        self,
        at_most: int | None,
        work: float,
        known: Order | None,
        tell: Callable[[int | None, int], None],
    ) -> Fewest:
        fewest = fewest_lifts(
            Yard(self.job, self._legs),
            self._solver,
            at_least=self._least,
            at_most=at_most,
            work=work,
            known=known,
            tell=tell,
        )
        self.job = replace(self.job, shut_out=fewest.job.shut_out)
        if fewest.possible:
            self._least = max(self._least, fewest.bound)
        return fewest

    def _close_to(self, order: Order) -> Found | None:
        """Return a plan in an order, or nearly, None if none is found in a moment."""
        job = self.job.narrowed(may=order.aside, must=order.aside, lifts=order.lifts)
        yard = Yard(job, self._legs)
        guide = guide_of(yard, order.stands, order.aside)
        prospect = open_cut(yard, order.lifts, self._scale, width=_CLOSE, guide=guide, stopped=self._stopped)
        if prospect is not None:
            prospect.go_on(int(FAR), self._stopped)
        if prospect is None or prospect.cost is None:
            return None
        return Found(job, prospect.steps, prospect.cost)

    def _open(self, order: Order) -> tuple[Prospect | None, bool]:
        """Return the search over the plans with as few lifts as an order, and whether it has all of them.

        Where it is not known that no order has fewer, only those in which the same frames wait.
        """
        if not self.settled:
            job = self.job.narrowed(may=order.aside, must=order.aside, lifts=order.lifts)
            yard = Yard(job, self._legs)
            guide = guide_of(yard, order.stands, order.aside)
            return open_cut(
                yard, order.lifts, self._scale, width=CUT_WIDTH, guide=guide, stopped=self._stopped
            ), False
        yard = Yard(narrowed(self.job, order, self._solver), self._legs)
        guide = guide_of(yard, order.stands, order.aside)
        return open_prospect(yard, order.lifts, self._scale, stopped=self._stopped, guide=guide)
