"""One direction and landing: the fewest extra lifts it needs, and the search over plans with as few."""

from __future__ import annotations

from dataclasses import replace

from packseq.standup.bounds import model_is_whole
from packseq.standup.job import Job
from packseq.standup.lifts import fewest_lifts
from packseq.standup.solver import Solver
from packseq.standup.states.best import Prospect, open_prospect
from packseq.standup.states.guide import guide_of
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.yard import Yard

_FINDING_ROUNDS = 4


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
    prospect
        The search over plans with so many, None before and when there is none.
    possible
        False once it is proven that no plan keeps the rules of order.
    """

    def __init__(self, job: Job, legs: LegTable, solver: Solver, scale: Scale) -> None:
        self.job = job
        self.bound = self.lifts = len(job.surely_waiting)
        self.prospect: Prospect | None = None
        self.possible = True
        self._legs, self._solver, self._scale = legs, solver, scale
        self._waiting: int | None = None
        self._least = self.lifts

    @property
    def once(self) -> bool:
        """Tell that no plan with so few lifts sets a frame aside twice: the states have every one."""
        return self._waiting is not None and self.lifts <= self._waiting

    def settle(self, at_most: int | None) -> None:
        """Search until there is a plan with the fewest extra lifts, or none with at most `at_most`."""
        while not self._stopped():
            self.prospect = self._open(at_most)
            if self.prospect is None:
                return
            for _ in range(_FINDING_ROUNDS):
                self.prospect.go_on(int(FAR), self._stopped)
                if self.prospect.cost is not None or self._stopped():
                    return
                if self.prospect.bound >= FAR:
                    break
            else:
                return
            self._rule_out(whole=self.prospect.whole)

    def _stopped(self) -> bool:
        return self._solver.clock.left <= 0

    def _rule_out(self, *, whole: bool) -> None:
        """Note that the spots have room for no plan with so few lifts."""
        if whole and self.once and self.lifts == self.bound and model_is_whole(self.job.house):
            # As many frames wait at least as such a plan has lifts: it would set none aside twice.
            self.bound += 1
        self._least, self.prospect = self.lifts + 1, None

    def _open(self, at_most: int | None) -> Prospect | None:
        """Return the search over plans with the fewest lifts that leave every frame a way."""
        sure = len(self.job.surely_waiting)
        if self._waiting is None and (at_most is None or sure <= at_most):
            # Most often just those frames wait that surely must: then there is nothing to find out.
            only = self.job.narrowed(may=self.job.surely_waiting, must=self.job.surely_waiting, lifts=sure)
            found, _ = open_prospect(Yard(only, self._legs), sure, self._scale, stopped=self._stopped)
            if found is not None:
                self._waiting = self.lifts = sure
                return found
        while not self._stopped():
            yard = Yard(self.job, self._legs)
            fewest = fewest_lifts(yard, self._solver, at_least=self._least, at_most=at_most)
            self.job = replace(self.job, shut_out=fewest.job.shut_out)
            if not fewest.possible:
                if self._waiting is None:
                    self.possible, self.bound = at_most is not None, (at_most or 0) + 1
                return None
            if self._waiting is None:
                self._waiting = self.bound = fewest.bound
            if fewest.value is None:
                return None
            self.lifts = fewest.value
            yard = Yard(fewest.job, self._legs)
            guide = guide_of(yard, fewest.order, fewest.aside)
            found, whole = open_prospect(yard, fewest.value, self._scale, stopped=self._stopped, guide=guide)
            if found is not None:
                return found
            self._rule_out(whole=whole)
        return None
