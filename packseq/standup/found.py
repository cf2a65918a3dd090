"""What a search found, as a plan that the check has replayed."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.check.replay import Replay, replay
from packseq.house.model import House
from packseq.plan.begin import Begin
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Plan, StageResult
from packseq.routes.engine import Routes
from packseq.standup.bounds import least_any_plan_walks
from packseq.standup.job import Job
from packseq.standup.staging import why_there
from packseq.standup.states.moves import Scale

Steps = tuple[Step, ...]


@dataclass(frozen=True)
class Found:
    """The best plan found so far, and what it costs on the scale of the search."""

    job: Job
    steps: Steps
    cost: int

    @property
    def stands(self) -> tuple[str, ...]:
        """The frames in the order in which they are stood."""
        return tuple(step.frame for step in self.steps if step.do == "stand")


@dataclass(frozen=True)
class PlanWriter:
    """Turns moves into plans of a house from where it begins, and holds them to the check."""

    house: House
    routes: Routes
    scale: Scale
    begin: Begin | None = None

    def planned(self, found: Found, cost_bound: int, before: tuple[StageResult, ...]) -> Plan:
        """Return the checked plan with its last two stages: walking, or all as one cost, and breaks."""
        worth = self.scale.mm_worth
        cost, breaks = divmod(found.cost, worth)
        bound = max(cost_bound // worth, least_any_plan_walks(found.job))
        stage = stage_result("walking_mm" if before else "cost_mm", cost, bound, *before)
        # The breaks were counted along: a bound on both is one on the breaks of plans that cost no more.
        least_breaks = cost_bound - cost * worth
        stages = (*before, stage, stage_result("breaks", breaks, least_breaks, stage))
        plan = self._reasoned(self.built(found.job, found.steps, stages), found.job)
        violations = self.replayed(plan).violations
        if violations:
            raise AssertionError(f"the search and the check disagree: {violations[0]}")
        return plan

    def built(self, job: Job, steps: Steps, stages: tuple[StageResult, ...] = ()) -> Plan:
        """Return the plan of some moves, not held to the check."""
        used = {step.to_spot for step in steps}
        proposed = self.begin is None and not self.house.scenario.spots
        proven = bool(stages) and all(stage.status == "optimal" for stage in stages)
        return build_plan(
            self.house,
            steps,
            # Of the spots proposed only those that are used, so that nobody clears ground for nothing.
            spots={name: spot for name, spot in job.spots.items() if not proposed or name in used},
            places={name: job.places[name] for name in self.house.scenario.packs},
            stages=stages,
            status="optimal" if proven else "best found",
            routes=self.routes,
            begin=self.begin,
            direction=None if self.begin is None else job.direction,
        )

    def _reasoned(self, plan: Plan, job: Job) -> Plan:
        """Return a plan that says of each spot it proposes why it is there, in its old words if any."""
        if self.house.scenario.spots:
            return plan
        spots = []
        for spot in plan.spots:
            waits = [] if self.begin is None else [*self.begin.spots.get(spot.name, ())]
            waits += [move.frame for move in plan.moves if move.to is not None and move.to.spot == spot.name]
            why = spot.why or why_there(self.house, job.places, job.spots[spot.name], waits)
            spots.append(spot.model_copy(update={"why": why}))
        return plan.model_copy(update={"spots": tuple(spots)})

    def replayed(self, plan: Plan) -> Replay:
        """Return what the check makes of a plan."""
        return replay(self.house, plan, self.routes)


def steps_in(plan: Plan) -> Steps:
    """Return the bare moves of a plan."""
    return tuple(
        Step(
            move.do,
            move.frame,
            to_spot=None if move.to is None else move.to.spot,
            to_pack=None if move.to is None else move.to.pack,
        )
        for move in plan.moves
    )


def stage_result(name: str, value: int, bound: int, before: StageResult | None = None) -> StageResult:
    """Return a stage's result: optimal only if proven, and only on top of a stage that is."""
    bound = max(0, min(bound, value))
    proven = bound == value and (before is None or before.status == "optimal")
    return StageResult(name=name, value=value, bound=bound, status="optimal" if proven else "best found")
