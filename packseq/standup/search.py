"""From a house to a checked plan: the stages in both directions, and the best of them."""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import get_args

from packseq.baseline import by_frame_list, by_nearest
from packseq.check.replay import Replay, replay
from packseq.errors import LimitError
from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.plan.model import LapDirection, Plan, StageResult
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.model import Place, Spot
from packseq.standup.bounds import least_any_plan_walks, model_is_whole
from packseq.standup.conflict import refuse_heavy_frames, refuse_without_plan
from packseq.standup.job import Job
from packseq.standup.lifts import Fewest, fewest_lifts
from packseq.standup.progress import Listener
from packseq.standup.rules import RULES
from packseq.standup.solver import Clock, Solver
from packseq.standup.staging import proposed_spots
from packseq.standup.walking import Effort, Found, fewest_breaks, least_walking

# Deterministic work allowed for each second of the limit, so that on a machine of ordinary
# speed the work runs out before the clock does and the plan is the same every time.
_WORK_PER_SECOND = 0.25
_FINDING_WORK = 2.0

Steps = tuple[Step, ...]


def plan_standup(
    house: House,
    *,
    limit_s: float,
    seed: int = 0,
    listener: Listener | None = None,
    stop: threading.Event | None = None,
) -> Plan:
    """Return the best stand order found for a house, replayed by the check.

    Parameters
    ----------
    house
        What is to stand; its scenario holds packs, spots, crew and rules.
    limit_s
        Seconds that the search may take. Work is limited so that the same house, limit and
        seed give the same plan; on a slow machine the seconds may run out first.
    seed
        Seed of the solver.
    listener
        Called with the progress, now and then, from the solver's threads.
    stop
        Once set, the best checked plan so far is returned.

    Raises
    ------
    NoPlanError
        No plan keeps the rules.
    LimitError
        The limit was reached, or the search stopped, before there was a plan.
    """
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    spots = scenario.spots or proposed_spots(scenario, places)
    routes = build_routes(scenario, [spot_stop(spot) for spot in spots.values()])
    search = _Search(house, spots, places, routes, Solver(Clock(limit_s, stop), seed, listener), limit_s)
    return search.merged() if search.lift_worth_mm else search.staged()


@dataclass(frozen=True)
class _Search:
    house: House
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    routes: Routes
    solver: Solver
    limit_s: float

    @property
    def lift_worth_mm(self) -> int:
        return whole_mm(self.house.scenario.stand.lift_worth_m * 1000)

    @property
    def jobs(self) -> list[Job]:
        wanted = self.house.scenario.stand.direction
        directions: tuple[LapDirection, ...] = get_args(LapDirection) if wanted == "auto" else (wanted,)
        return [
            Job(self.house, direction, self.spots, self.places, frozenset(RULES)) for direction in directions
        ]

    def staged(self) -> Plan:
        """Extra lifts first, then walking, then breaks."""
        fewest = self._fewest_lifts()
        done = [entry for entry in fewest if entry.steps]
        bound = min((entry.bound for entry in fewest), default=0)
        if not done:
            return self._unplanned(bound)
        value = min(entry.value for entry in done if entry.value is not None)
        lifts = _stage("extra lifts", value, bound)
        starts = [(entry.job, entry.steps) for entry in done if entry.value == value]
        best, walking_bound = self._least_walking(starts)
        if not best:
            return self._plan_as_it_is(starts[0][1] or (), bound)
        # A direction that may have as few lifts, but no plan yet, was not searched for less walking.
        unseen = any(entry.bound <= value and entry.value != value for entry in fewest)
        if unseen or lifts.status != "optimal" or not model_is_whole(self.house):
            walking_bound = min(walking_bound, least_any_plan_walks(self.house))
        walking = _stage("walking_mm", best[0].value or 0, walking_bound, lifts)
        return self._fewest_breaks(best, (lifts, walking))

    def merged(self) -> Plan:
        """One extra lift is worth so many metres: lifts and walking as one cost, then breaks."""
        fewest = self._fewest_lifts(either_way=True)
        steps = {entry.job.direction: entry.steps for entry in fewest}
        jobs = [replace(job, for_walking=True) for job in self.jobs]
        best, bound = self._least_walking([(job, steps.get(job.direction)) for job in jobs])
        lifts = min((entry.bound for entry in fewest), default=0)
        if not best:
            done = [entry.steps for entry in fewest if entry.steps]
            return self._plan_as_it_is(done[0], lifts) if done else self._unplanned(lifts)
        # The model sets a frame aside at most once. Another plan has at least one lift more than the
        # fewest, unless it uses places that the model does not know, and walks what any plan walks.
        other_lifts = lifts + 1 if model_is_whole(self.house) else lifts
        other = self.lift_worth_mm * other_lifts + least_any_plan_walks(self.house)
        cost = _stage("cost_mm", best[0].value or 0, min(bound, other))
        return self._fewest_breaks(best, (cost,))

    def _fewest_lifts(self, *, either_way: bool = False) -> list[Fewest]:
        """Return the fewest lifts of each direction that is not proven worse than another."""
        jobs = self.jobs
        refuse_heavy_frames(jobs[0])
        found: list[Fewest] = []
        best: int | None = None
        for job in jobs:
            fewest = fewest_lifts(
                job,
                self.solver,
                at_most=None if either_way else best,
            )
            if fewest is not None:
                found.append(fewest)
                if fewest.value is not None:
                    best = fewest.value if best is None else min(best, fewest.value)
        if best is None:
            refuse_without_plan(jobs, self.solver)
        return found

    def _least_walking(self, starts: Sequence[tuple[Job, Steps | None]]) -> tuple[list[Found], int]:
        """Return the plans tied for the least cost in each direction, and the bound over all of them."""
        found: list[Found] = []
        bounds: list[int] = []
        for job, steps in starts:
            least = least_walking(
                job,
                self.routes,
                steps,
                self.solver,
                self._effort(0.6 / len(starts)),
                lift_worth_mm=self.lift_worth_mm,
                at_most=min((entry.value for entry in found if entry.value is not None), default=None),
            )
            if least.bound is not None:
                bounds.append(least.bound)
            if least.value is not None:
                found.append(least)
        best = min((entry.value for entry in found if entry.value is not None), default=0)
        return [entry for entry in found if entry.value == best], min(bounds, default=0)

    def _fewest_breaks(self, tied: Sequence[Found], stages: tuple[StageResult, ...]) -> Plan:
        found = [
            fewest_breaks(
                entry,
                self.routes,
                self.solver,
                self._effort(0.3 / len(tied)),
                lift_worth_mm=self.lift_worth_mm,
            )
            for entry in tied
        ]
        bound = min(entry.bound or 0 for entry in found)
        plans = [
            self._plan(entry.steps or before.steps or (), stages)
            for before, entry in zip(tied, found, strict=True)
        ]
        best = min(plans, key=lambda plan: self._replayed(plan).cost.breaks)
        breaks = _stage("breaks", self._replayed(best).cost.breaks, bound, stages[-1])
        return self._checked(steps_in(best), (*stages, breaks))

    def _unplanned(self, lifts_bound: int) -> Plan:
        """Return what the better unplanned crew would do: the search found nothing in its time."""
        crews = [
            crew(self.house, spots=self.spots, places=self.places, routes=self.routes).plan
            for crew in (by_frame_list, by_nearest)
        ]
        plans = [plan for plan in crews if plan is not None]
        if not plans:
            refuse_without_plan(self.jobs, self.solver)
            raise LimitError("the limit was reached before any plan was found")
        best = min(plans, key=lambda plan: self._replayed(plan).cost.extra_lifts)
        return self._plan_as_it_is(steps_in(best), lifts_bound)

    def _plan_as_it_is(self, steps: Steps, lifts_bound: int) -> Plan:
        """Return a plan that no stage has bettered, with the bounds that hold for any."""
        cost = self._replayed(self._plan(steps, ())).cost
        walks = least_any_plan_walks(self.house)
        if self.lift_worth_mm:
            value = cost.merged_mm(self.house.scenario.stand.lift_worth_m)
            stages = [_stage("cost_mm", value, self.lift_worth_mm * lifts_bound + walks)]
        else:
            stages = [_stage("extra lifts", cost.extra_lifts, lifts_bound)]
            stages.append(_stage("walking_mm", cost.walking_mm, walks, stages[-1]))
        stages.append(_stage("breaks", cost.breaks, 0, stages[-1]))
        return self._checked(steps, tuple(stages))

    def _effort(self, share: float) -> Effort:
        work = self.limit_s * _WORK_PER_SECOND * share
        return Effort(finding=min(_FINDING_WORK, work / 3), proving=work)

    def _plan(self, steps: Steps, stages: tuple[StageResult, ...]) -> Plan:
        proven = bool(stages) and all(stage.status == "optimal" for stage in stages)
        return build_plan(
            self.house,
            steps,
            spots=self.spots,
            places=self.places,
            stages=stages,
            status="optimal" if proven else "best found",
            routes=self.routes,
        )

    def _replayed(self, plan: Plan) -> Replay:
        return replay(self.house, plan, self.routes)

    def _checked(self, steps: Steps, stages: tuple[StageResult, ...]) -> Plan:
        plan = self._plan(steps, stages)
        violations = self._replayed(plan).violations
        if violations:
            raise AssertionError(f"the model and the check disagree: {violations[0]}")
        return plan


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


def _stage(name: str, value: int, bound: int, before: StageResult | None = None) -> StageResult:
    """Return a stage's result: optimal only if proven, and only on top of a stage that is."""
    bound = max(0, min(bound, value))
    proven = bound == value and (before is None or before.status == "optimal")
    return StageResult(name=name, value=value, bound=bound, status="optimal" if proven else "best found")
