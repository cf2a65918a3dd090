"""What any plan costs at least, as far as its job was searched: by states, by the chain, by parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packseq.house.model import House
from packseq.routes.engine import Routes
from packseq.standup.bounds import model_is_whole
from packseq.standup.found import Found
from packseq.standup.front import Front
from packseq.standup.job import Job
from packseq.standup.solver import Solver
from packseq.standup.states.best import Prospect
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.transport import least_by_transport, places_are_known
from packseq.standup.walking import least_walking

# The share of the limit that may go into the chain of moves, for each job.
_CHAIN_SHARE = 0.2


@dataclass(frozen=True, slots=True)
class LeastCost:
    """Bounds on what plans cost, on the scale of a search; `begun` if it goes on from some moment."""

    house: House
    routes: Routes
    solver: Solver
    scale: Scale
    limit_s: float
    begun: bool

    def as_few_lifts(self, best: Found, fronts: Sequence[Front], lifts: int) -> int:
        """Return what any plan with no more extra lifts costs; the fronts are all that may have one."""
        least = best.cost if fronts else 0
        for front in fronts:
            searched = front.prospect() if front.lifts == lifts and front.once else None
            bound = 0
            if searched is not None and model_is_whole(self.house):
                bound = self._of(front.job.as_few_as(lifts), searched, best)
            if bound < best.cost and not self.begun and places_are_known(self.house):
                by_parts = least_by_transport(front.job, self.routes, lifts)
                bound = max(bound, by_parts * self.scale.mm_worth)
            least = min(least, bound)
        return least

    def as_opened(self, prospects: Sequence[Prospect]) -> int:
        """Return what any plan costs that has as few lifts as those searched, all of which were opened."""
        return min((each.bound for each in prospects), default=int(FAR)) if model_is_whole(self.house) else 0

    def _of(self, job: Job, searched: Prospect, best: Found) -> int:
        """Return the bound of one job; where plans were left out, that of the chain of moves."""
        if searched.whole:
            return searched.bound
        if self.begun:
            # The chain of moves knows no beginning but everything as delivered.
            return 0
        alike = best.job.direction == job.direction and best.job.places == job.places
        least = least_walking(
            job,
            self.routes,
            best.steps if alike else None,
            self.solver,
            seconds=self.limit_s * _CHAIN_SHARE,
            lift_worth_mm=self.scale.lift_worth // self.scale.mm_worth,
        )
        return least * self.scale.mm_worth
