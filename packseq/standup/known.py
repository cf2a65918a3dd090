"""The plans there are before any search: packs unpacked clean, what unplanned crews do, or what began."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from packseq.baseline import by_frame_list, by_nearest
from packseq.house.model import House
from packseq.plan.build import Step
from packseq.plan.model import Plan
from packseq.scenario.model import Place
from packseq.standup.begun import Begun
from packseq.standup.clean import unpacked_clean
from packseq.standup.found import Found, PlanWriter, steps_in
from packseq.standup.job import Job
from packseq.standup.jobs import one_a_landing


@dataclass(frozen=True)
class KnownPlans:
    """The plans known of a house's jobs, which any search has to better."""

    house: House
    jobs: tuple[Job, ...]
    writer: PlanWriter
    begun: Begun | None = None

    def best(self) -> Plan | None:
        """Return the best plan that is known, None where every crew gets stuck."""
        plans = [*self._clean(), *self._unplanned()] if self.begun is None else self.begun.known
        return min(plans, key=self._worth, default=None)

    def lifts(self, plan: Plan) -> int:
        """Return the extra lifts of a plan."""
        return self.writer.replayed(plan).cost.extra_lifts

    def found(self, plan: Plan) -> Found:
        """Return a plan as if a search had found it."""
        cost = self.writer.replayed(plan).cost
        merged_mm = cost.merged_mm(self.house.scenario.stand.lift_worth_m)
        worth = self.writer.scale.mm_worth
        return Found(self._job_of(plan), steps_in(plan), worth * merged_mm + cost.breaks)

    def _clean(self) -> Iterator[Plan]:
        """Yield plans without extra lifts, of packs laid up so that one can be seen at once."""
        for job in self.jobs:
            order = unpacked_clean(job, self.writer.routes)
            if order is not None:
                yield self.writer.built(job, tuple(Step("stand", name) for name in order))

    def _unplanned(self) -> list[Plan]:
        """Return what unplanned crews do, from the first landing where not all of them get stuck."""
        for job in one_a_landing(self.jobs):
            crews = [
                crew(self.house, spots=job.spots, places=job.places, routes=self.writer.routes).plan
                for crew in (by_frame_list, partial(by_nearest, thinks_again=True))
            ]
            plans = [plan for plan in crews if plan is not None]
            if plans:
                return plans
        return []

    def _worth(self, plan: Plan) -> tuple[int, int, int]:
        """Return what tells the better of two plans: the less, the better."""
        cost = self.writer.replayed(plan).cost
        lift_worth_m = self.house.scenario.stand.lift_worth_m
        return (0 if lift_worth_m else cost.extra_lifts, cost.merged_mm(lift_worth_m), cost.breaks)

    def _job_of(self, plan: Plan) -> Job:
        """Return the job of a plan: its direction, with the packs landed as the plan has them."""
        landed = {name: Place((x, y), bearing) for name, (x, y, bearing) in plan.places.items()}
        of_plan = (
            job
            for job in self.jobs
            if job.direction == plan.direction and landed.items() <= dict(job.places).items()
        )
        return next(of_plan, self.jobs[0])
