"""Step through a plan, noting every broken rule and what the plan truly costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from packseq.check.beginning import misstated_beginning
from packseq.check.cost import Cost, cost_of
from packseq.check.head import held_open_in, misstated_head, misstated_outcome
from packseq.check.job import Job
from packseq.check.moves import impossible, lift_of, misnumbered, misstated
from packseq.check.rules import broken_rules
from packseq.check.setting import job_of, routes_for
from packseq.check.state import State
from packseq.check.violation import PLAN_FILE, Violation
from packseq.check.walking import NOT_WALKED, Walked, walked_in
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.routes.engine import Routes
from packseq.routes.values import Stop


@dataclass(frozen=True)
class Replay:
    """A plan as carried out: what is wrong with it and what it truly costs.

    Parameters
    ----------
    job
        The house, spots, places and direction that the plan was replayed with.
    plan
        The plan replayed.
    violations
        Everything wrong: the head of the plan first, then move by move, then the outcome.
    walked
        One entry for each move; a move that cannot be carried out walks nothing.
    cost
        The true cost.
    held_open
        Perimeter frames stood after the first internal frame of their level, in stand order.
    """

    job: Job
    plan: Plan
    violations: tuple[Violation, ...]
    walked: tuple[Walked, ...]
    cost: Cost
    held_open: tuple[str, ...]

    @property
    def kept(self) -> bool:
        """Whether the plan keeps every rule and states nothing that is not so."""
        return not self.violations

    def states(self) -> Iterator[State]:
        """Yield the state after each move; a move that cannot be carried out changes nothing."""
        state = self.job.beginning
        for move in self.plan.moves:
            if impossible(self.job, state, move) is None:
                lift = lift_of(self.job, state, move, None)
                state = state.after(lift.frame.name, lift.target)
            yield state

    def state_after(self, number: int) -> State:
        """Return the state after the move at place `number` of the plan; 0 is before the first.

        Raises
        ------
        IndexError
            When the plan has no such move.
        """
        if not 0 <= number <= len(self.plan.moves):
            raise IndexError(f"the plan has no move {number}")
        if number == 0:
            return self.job.beginning
        return next(islice(self.states(), number - 1, None))


def replay(house: House, plan: Plan, routes: Routes | None = None) -> Replay:
    """Replay a plan and find everything that is wrong with it.

    A move that cannot be carried out at all (an unknown frame, one that stands already, a spot
    that is not there) is told and passed over. Any other is carried out, however many rules it
    breaks, so that what follows is judged from what would truly lie and stand.

    Parameters
    ----------
    house
        The house to stand.
    plan
        The plan, from wherever it came.
    routes
        The routes of the house with the spots of the plan, as `routes_for` builds them; built here
        unless given. They may serve for every plan with the same spots.
    """
    job = job_of(house, plan, routes or routes_for(house, plan))
    wrong_so_far = (*misstated_head(job, plan), *misstated_beginning(job))
    violations = [Violation(PLAN_FILE, None, text) for text in wrong_so_far]
    state = job.beginning
    team_at: Stop | None = None
    walked: list[Walked] = []
    set_aside: list[str] = []
    for number, move in enumerate(plan.moves, 1):
        violations.extend(Violation(PLAN_FILE, number, text) for text in misnumbered(move, number))
        reason = impossible(job, state, move)
        if reason is not None:
            violations.append(Violation(PLAN_FILE, number, reason))
            walked.append(NOT_WALKED)
            continue
        lift = lift_of(job, state, move, team_at)
        walked.append(walked_in(lift))
        violations.extend(Violation(rule, number, text) for rule, text in broken_rules(lift))
        wrong = misstated(lift, move, walked[-1])
        violations.extend(Violation(PLAN_FILE, number, text) for text in wrong)
        if lift.target is not None:
            set_aside.append(move.frame)
        state, team_at = state.after(move.frame, lift.target), lift.drop
    cost = cost_of(job.house, set_aside, state.stood[len(job.beginning.stood) :], walked)
    outcome = misstated_outcome(job, plan, state.stood, cost)
    violations.extend(Violation(PLAN_FILE, None, text) for text in outcome)
    held_open = held_open_in(job.house, state.stood)
    return Replay(job, plan, tuple(violations), tuple(walked), cost, held_open)
