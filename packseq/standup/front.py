"""One direction and landing: the fewest extra lifts it needs, and the search over plans with as few."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

from packseq.standup.bounds import model_is_whole
from packseq.standup.found import Found
from packseq.standup.job import Job
from packseq.standup.lifts import STAGE, Order, OrderSearch, Round
from packseq.standup.solver import Answer, Solver
from packseq.standup.states.best import Prospect, open_cut, open_prospect
from packseq.standup.states.corridor import Corridor
from packseq.standup.states.guide import NO_GUIDE, Guide, guide_along, guide_of
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.yard import Yard
from packseq.standup.survey import survey
from packseq.standup.waiting import narrowed

_FINDING_ROUNDS = 4
# States of each layer that are kept in looking for a plan close to an order, and farther from it.
_CLOSE, _FARTHER = 10, 300
# How many jobs have their orders of standing searched at a time, each on a core of its own.
_AT_A_TIME = 2
# Deterministic work on the order of standing, in the solver's units: for each second of the limit, for each
# job at least, before the states are looked through narrowly for a first order, and while that is done.
_WORK_PER_SECOND = 0.2
_LEAST_WORK = 2.0
_FIRST_WORK = 1.0
_WORK_BESIDE = 7.0


class Front:
    """A job being searched for plans with fewest extra lifts.

    Parameters
    ----------
    job, legs, solver, scale
        The job, how the team walks, and what solves.
    most_work, first_work
        Deterministic work that may go into the order of standing, in the solver's units: in all, and before
        the states are looked through narrowly for a first order.
    known
        A plan of the job that is known, if any.

    Attributes
    ----------
    found
        The plan with fewest extra lifts that was found, None before and when there is none.
    """

    def __init__(
        self,
        job: Job,
        legs: LegTable,
        solver: Solver,
        scale: Scale,
        *,
        most_work: float,
        first_work: float = _FIRST_WORK,
        known: Found | None = None,
    ) -> None:
        self._sought = len(job.surely_waiting)
        self.found: Found | None = None
        self._legs, self._solver, self._scale = legs, solver, scale
        self._most_work, self._first_work, self._known = most_work, first_work, known
        self._orders = OrderSearch(Yard(job, legs), solver, self._sought)
        self._waiting: int | None = None
        self._bound: int | None = None
        self._surveyed = self._given_up = False
        self._tried: Order | None = None
        self._followed: Order | None = None
        self._prospect: Prospect | None = None

    @property
    def job(self) -> Job:
        """The job; it learns what shuts frames out."""
        return self._orders.job

    @property
    def lifts(self) -> int:
        """How many extra lifts the plan found has; without one, how many those last looked for have."""
        found = None if self.found is None else self.found.job.lifts
        return self._sought if found is None else found

    @property
    def possible(self) -> bool:
        """False once it is proven that no plan keeps the rules of order."""
        return self._orders.possible or self._waiting is not None

    @property
    def bound(self) -> int:
        """No plan has fewer extra lifts, not even one that sets a frame aside more than once."""
        return self._orders.bound if self._bound is None else self._bound

    @property
    def waiting(self) -> int:
        """No plan has fewer frames wait."""
        return self._orders.bound if self._waiting is None else self._waiting

    @property
    def once(self) -> bool:
        """Tell that no plan with so few lifts sets a frame aside twice: the states have every one."""
        return self.lifts <= self.waiting

    def settled(self, at_most: int | None) -> bool:
        """Tell whether the order with the fewest lifts is known, if any has `at_most` or fewer."""
        return self._orders.settled(at_most)

    def done(self, at_most: int | None) -> bool:
        """Tell whether nothing more can be found out, or no more work may go into it."""
        if self._given_up:
            return True
        if self._wanted(at_most) is not None and (self.settled(at_most) or self._orders.best != self._tried):
            return False
        return self.settled(at_most) or (self._surveyed and self._orders.work >= self._most_work)

    @property
    def proving(self) -> bool:
        """Tell whether rounds go on after a narrow look for a first order: they are long."""
        return self._surveyed

    def next_round(self, at_most: int | None) -> Round | None:
        """Return the round of the search for an order that comes next, None where another step does."""
        orders, wanted = self._orders, self._wanted(at_most)
        if wanted is not None and (wanted != self._tried or self.settled(at_most)):
            return None
        if self._surveyed:
            return self._proof(at_most, self._most_work - orders.work)
        return orders.next_round(at_most, 2 * self._first_work) if orders.work < self._first_work else None

    def round_beside(self, at_most: int | None) -> Round | None:
        """Return a round that may be asked while another step is taken, None if it is of no use by then."""
        work = min(_WORK_BESIDE, self._most_work - self._orders.work)
        return None if self.settled(at_most) or work <= 0 else self._proof(at_most, work)

    def _proof(self, at_most: int | None, work: float) -> Round:
        # First it is shown that no order has fewer, or one is found.
        fewer = at_most if at_most is None or self._orders.bound >= at_most else at_most - 1
        return self._orders.next_round(fewer, work)

    def learn(self, asked: Round, answer: Answer) -> None:
        """Take note of what came of a round."""
        self._orders.learn(asked, answer)

    def step(self, at_most: int | None) -> None:
        """Take one more step towards a plan with the fewest extra lifts, where no round comes next."""
        wanted = self._wanted(at_most)
        if wanted is not None and wanted != self._tried:
            self._tried = wanted
            self._take(wanted, self._close_to(wanted))
        elif wanted is not None and self.settled(at_most):
            self._look_everywhere(wanted)
        else:
            self._surveyed = True
            yard, most = Yard(self.job, self._legs), len(self.job.frames) if at_most is None else at_most
            seen = survey(yard, most, self._stopped, self._guide_of_known(yard))
            if seen is not None:
                self._orders.know(seen)

    def prospect(self) -> Prospect | None:
        """Return the search over plans with as few lifts as the one found, None if it cannot be opened.

        Over all of them if there are not too many states, else those in which the same frames wait.
        """
        if self._prospect is None and self._followed is not None:
            self._prospect = self._opened(self._followed)
        return self._prospect

    def _opened(self, order: Order) -> Prospect | None:
        same = self.job.narrowed(may=order.aside, must=order.aside, lifts=order.lifts)
        part, _ = self._all_of(same, order.lifts)
        if part is None:
            return None
        part.whole = False
        if order.lifts > self._orders.bound:
            return part
        every = narrowed(self.job, order, self._solver)
        if every.may_wait == every.must_wait == order.aside:
            part.whole = True
            return part
        whole, fits = self._all_of(every, order.lifts)
        return whole if fits else part

    def corridor(self, found: Found) -> Corridor:
        """Return the search through plans close to one that is found, with no more extra lifts."""
        lifts = sum(step.do == "set aside" for step in found.steps)
        return Corridor(Yard(self.job.as_few_as(lifts), self._legs), self._scale, found.steps, found.cost)

    def _all_of(self, job: Job, lifts: int) -> tuple[Prospect | None, bool]:
        return open_prospect(Yard(job, self._legs), lifts, self._scale, stopped=self._stopped)

    def _guide_of_known(self, yard: Yard) -> Guide:
        known = self._known
        if known is None or any(step.to_pack is not None for step in known.steps):
            return NO_GUIDE
        return guide_along(yard, known.steps)

    def _stopped(self) -> bool:
        return self._solver.clock.left <= 0

    def _wanted(self, at_most: int | None) -> Order | None:
        """Return the best order if no plan with as few lifts is found yet."""
        best = self._orders.best
        if best is None or (at_most is not None and best.lifts > at_most):
            return None
        return best if self.found is None or best.lifts < self.lifts else None

    def _take(self, order: Order, found: Found | None) -> None:
        """Take note of the plan found for an order, if one was."""
        if found is not None:
            self.found, self._followed = found, order

    def _look_everywhere(self, order: Order) -> None:
        """Look for a plan among all with as few lifts as an order, or find that there is none."""
        self._sought = order.lifts
        job = narrowed(self.job, order, self._solver)
        prospect, every = self._all_of(job, order.lifts)
        if not every:
            prospect = self._cut(job, order, _FARTHER)
        found = None if prospect is None else self._plan_found_by(prospect, order)
        if prospect is None or (prospect.bound >= FAR and found is None):
            self._rule_out(order.lifts, whole=every)
            return
        self._prospect = prospect if every else None
        self._take(order, found)
        self._given_up = found is None

    def _plan_found_by(self, prospect: Prospect, order: Order) -> Found | None:
        """Return the plan that a search comes to in a few rounds, None if it comes to none."""
        for _ in range(_FINDING_ROUNDS):
            if prospect.bound >= FAR or prospect.cost is not None or self._stopped():
                break
            prospect.go_on(int(FAR), self._stopped, order.stands)
        return None if prospect.cost is None else Found(prospect.yard.job, prospect.steps, prospect.cost)

    def _rule_out(self, lifts: int, *, whole: bool) -> None:
        """Note that the spots have room for no plan with so few lifts."""
        bound, waiting = self.bound, self.waiting
        if whole and lifts == bound == waiting and model_is_whole(self.job.house):
            # As many frames wait at least as such a plan has lifts: it would set none aside twice.
            bound += 1
        self._bound, self._waiting = bound, waiting
        self._orders.pass_over(lifts)

    def _close_to(self, order: Order) -> Found | None:
        """Return a plan in an order, or nearly, in which the same frames wait; None if none is found soon."""
        job = self.job.narrowed(may=order.aside, must=order.aside, lifts=order.lifts)
        prospect = self._cut(job, order, _CLOSE)
        return None if prospect is None else self._plan_found_by(prospect, order)

    def _cut(self, job: Job, order: Order, width: int) -> Prospect | None:
        """Return the search over some plans of a job, those in an order among them."""
        yard = Yard(job, self._legs)
        guide = guide_of(yard, order.stands, order.aside)
        return open_cut(yard, order.lifts, self._scale, width=width, guide=guide, stopped=self._stopped)


def settled_fronts(
    jobs: Sequence[Job],
    legs: LegTable,
    solver: Solver,
    scale: Scale,
    *,
    limit_s: float,
    at_most: int | None,
    known: Found | None = None,
) -> list[Front]:
    """Return every job searched for its fewest extra lifts, as far as it may have as few as another.

    They take turns, the one with the least bound first. `known` is a plan of one of the jobs, if there is
    one, and `at_most` the extra lifts that a plan may have, if they are limited.
    """
    work = max(_LEAST_WORK, limit_s * _WORK_PER_SECOND * min(1.0, _AT_A_TIME / len(jobs)))
    fronts = [
        Front(
            job,
            legs,
            solver,
            scale,
            most_work=work,
            known=known if known is not None and known.job is job else None,
        )
        for job in jobs
    ]
    while solver.clock.left > 0 and (live := [front for front in fronts if not front.done(at_most)]):
        go_on_side_by_side(live, at_most)
        lifts = [front.lifts for front in fronts if front.found is not None]
        at_most = min([*lifts, *([] if at_most is None else [at_most])], default=None)
        solver.tell(STAGE, at_most, min(front.bound for front in fronts))
    return fronts


def go_on_side_by_side(live: Sequence[Front], at_most: int | None) -> None:
    """Take a step with the job of the least bound and one with another job, side by side.

    Only rounds are asked of the solver in threads of their own; any other step is taken here. What comes of
    it does not depend on which answer is there first.
    """
    first, *others = sorted(live, key=lambda front: front.bound)
    steps = [(first, first.next_round(at_most))]
    for front in others[: _AT_A_TIME - 1]:
        asked = front.next_round(at_most)
        # A short round is not kept waiting for a step that may never be needed.
        if asked is not None or (steps[0][1] is not None and first.proving):
            steps.append((front, asked))
    rounds = [(front, asked) for front, asked in steps if asked is not None]
    if not rounds and (beside := first.round_beside(at_most)) is not None:
        rounds.append((first, beside))
    with ThreadPoolExecutor(_AT_A_TIME) as team:
        answers = [team.submit(asked.answer) for _, asked in rounds]
        for front, asked in steps:
            if asked is None:
                front.step(at_most)
    for (front, asked), answer in zip(rounds, answers, strict=True):
        front.learn(asked, answer.result())
