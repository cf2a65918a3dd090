"""From a house to a checked plan: both directions and every landing, and the best of them."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import get_args

from packseq.baseline import by_frame_list, by_nearest
from packseq.check.replay import Replay, replay
from packseq.errors import LimitError
from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.plan.model import LapDirection, Plan, StageResult
from packseq.routes.engine import build_routes
from packseq.routes.values import spot_stop
from packseq.standup.bounds import least_any_plan_walks, model_is_whole
from packseq.standup.conflict import refuse_heavy_frames, refuse_without_plan
from packseq.standup.job import Job
from packseq.standup.landing import landings
from packseq.standup.lifts import STAGE, fewest_lifts
from packseq.standup.progress import Listener
from packseq.standup.rules import RULES
from packseq.standup.solver import Clock, Solver
from packseq.standup.staging import proposed_spots
from packseq.standup.states.best import Prospect, TooManyStatesError, prospect
from packseq.standup.states.bits import Numbered
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.yard import Yard
from packseq.standup.walking import least_walking

# Work allowed for each second of the limit, in moves passed, so that on a machine of ordinary speed
# the work runs out before the clock does and the plan is the same every time.
_WORK_PER_SECOND = 2_000_000
_MOST_STATES = 60_000
# Where there are more, so many states of each layer are kept, and the bound is that of any plan.
_CUT_WIDTH = 2_000
# The share of the limit that may then go into that bound, for each job.
_BOUND_SHARE = 0.2

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
    jobs = all_jobs(house)
    stops = {spot_stop(spot): None for job in jobs for spot in job.spots.values()}
    routes = build_routes(house.scenario, stops)
    solver = Solver(Clock(limit_s, stop), seed, listener)
    legs = LegTable(routes, Numbered(jobs[0].frames))
    search = _Search(house, jobs, legs, solver, limit_s)
    return search.merged() if search.lift_worth_mm else search.staged()


def all_jobs(house: House) -> tuple[Job, ...]:
    """Return a job for each direction that the lap may take, and each way that the packs may land."""
    scenario = house.scenario
    wanted = scenario.stand.direction
    directions: tuple[LapDirection, ...] = get_args(LapDirection) if wanted == "auto" else (wanted,)
    return tuple(
        Job(house, direction, scenario.spots or proposed_spots(scenario, places), places, frozenset(RULES))
        for places in landings(scenario)
        for direction in directions
    )


@dataclass(frozen=True)
class _Opened:
    """A job and the fewest extra lifts that it may have, with the search over its plans if it has any.

    `bound` holds for the extra lifts of every plan, also one that sets a frame aside more than once.
    `once` tells that no plan with so few lifts does that, so that the states have every one of them.
    """

    prospect: Prospect | None
    lifts: int
    bound: int
    once: bool = True


@dataclass(frozen=True)
class _Best:
    """The best plan found, and what it costs on the scale of the search."""

    job: Job
    steps: Steps
    cost: int


@dataclass(frozen=True)
class _Search:
    house: House
    jobs: tuple[Job, ...]
    legs: LegTable
    solver: Solver
    limit_s: float

    @property
    def lift_worth_mm(self) -> int:
        return whole_mm(self.house.scenario.stand.lift_worth_m * 1000)

    @property
    def scale(self) -> Scale:
        worth = 1 << len(self.house.scenario.frames).bit_length()
        return Scale(worth, worth * self.lift_worth_mm)

    @property
    def out_of_time(self) -> bool:
        return self.solver.clock.left <= 0

    def staged(self) -> Plan:
        """Extra lifts first, then walking, then breaks."""
        refuse_heavy_frames(self.jobs[0])
        crew = self._better_crew()
        at_least = 0
        while True:
            opened = self._fewest_lifts(at_least)
            bound = min((each.bound for each in opened), default=0)
            prospects = [each.prospect for each in opened if each.prospect is not None]
            lifts = min((each.lifts for each in opened if each.prospect is not None), default=bound)
            best = self._least(prospects, self._held(crew, lifts), "walking_mm")
            if best is not None:
                return self._staged_plan(best, opened, bound)
            if self.out_of_time or not prospects:
                return self._as_it_is(crew, bound)
            # Every plan with so few lifts was looked through, and the spots have room for none.
            at_least = lifts + 1

    def _fewest_lifts(self, at_least: int) -> list[_Opened]:
        """Open the jobs that may have as few extra lifts as any, but not less than so many."""
        opened: list[_Opened] = []
        for job in self.jobs:
            most = min((each.lifts for each in opened if each.prospect is not None), default=None)
            found = self._open(job, at_least, most)
            if found is not None:
                opened.append(found)
        fewest = min((each.lifts for each in opened if each.prospect is not None), default=None)
        if fewest is None and not self.out_of_time:
            refuse_without_plan(self.jobs, self.solver)
        return [each for each in opened if fewest is None or each.lifts <= fewest]

    def _open(self, job: Job, at_least: int, at_most: int | None) -> _Opened | None:
        """Open a job with the fewest extra lifts that leave every frame a way, None if past `at_most`."""
        sure = len(job.surely_waiting)
        if sure >= at_least and (at_most is None or sure <= at_most):
            # Most often just those frames wait that surely must: then there is nothing to find out.
            only = job.narrowed(may=job.surely_waiting, must=job.surely_waiting, lifts=sure)
            found, _ = self._prospect(only, sure)
            if found is not None:
                return _Opened(found, sure, sure)
        yard, least = Yard(job, self.legs), max(at_least, sure)
        waiting = bound = None
        while not self.out_of_time:
            fewest = fewest_lifts(yard, self.solver, at_least=least, at_most=at_most)
            if fewest is None or fewest.value is None:
                break
            if bound is None:
                waiting = bound = fewest.bound
            found, whole = self._prospect(fewest.job, fewest.value)
            if found is not None:
                return _Opened(found, fewest.value, min(bound, fewest.value), once=fewest.value <= waiting)
            if whole and fewest.value == bound and model_is_whole(self.house):
                # As many frames wait at least as this plan would have lifts: none is set aside twice.
                bound += 1
            yard, least = Yard(replace(job, shut_out=fewest.job.shut_out), self.legs), fewest.value + 1
        if bound is None and not self.out_of_time and fewest is None:
            return None
        bound = sure if bound is None else bound
        return _Opened(None, bound, bound)

    def _prospect(self, job: Job, most_lifts: int) -> tuple[Prospect | None, bool]:
        """Return the search over a job's plans, None without any, and whether it has all of them."""
        yard = Yard(job, self.legs)
        try:
            return prospect(yard, most_lifts, self.scale, most_states=_MOST_STATES), True
        except TooManyStatesError:
            return prospect(yard, most_lifts, self.scale, width=_CUT_WIDTH), False

    def _held(self, crew: Plan | None, lifts: int) -> _Best | None:
        """Return what a crew does unplanned, if it has no more extra lifts than are held to."""
        if crew is None:
            return None
        cost = self._replayed(crew).cost
        if cost.extra_lifts > lifts:
            return None
        worth = self.scale.mm_worth
        return _Best(self.jobs[0], steps_in(crew), worth * cost.walking_mm + cost.breaks)

    def _least(self, prospects: Sequence[Prospect], best: _Best | None, stage: str) -> _Best | None:
        """Search in turn where the bound is least, until no bound is less than what the best plan costs."""
        while not self.out_of_time and sum(each.work for each in prospects) < self.limit_s * _WORK_PER_SECOND:
            most = int(FAR) if best is None else best.cost
            live = [each for each in prospects if each.bound < most]
            if not live:
                break
            first = min(live, key=lambda each: each.bound)
            first.go_on(most, lambda: self.out_of_time)
            if first.cost is not None and first.cost < most:
                best = _Best(first.yard.job, first.steps, first.cost)
            bound = min(each.bound for each in prospects)
            worth = self.scale.mm_worth
            self.solver.tell(stage, None if best is None else best.cost // worth, min(bound, most) // worth)
        return best

    def _staged_plan(self, best: _Best, opened: Sequence[_Opened], lifts_bound: int) -> Plan:
        lifts = sum(step.do == "set aside" for step in best.steps)
        first = _stage("extra lifts", lifts, lifts_bound)
        bound = self._cost_bound(best, [each.prospect if each.once else None for each in opened])
        return self._plan_of(best, bound, (first,))

    def _cost_bound(self, best: _Best, prospects: Sequence[Prospect | None]) -> int:
        """Return what any plan costs at least, as far as its job was searched."""
        if not model_is_whole(self.house):
            return 0
        return min(best.cost, *(self._bound_of(each, best) for each in prospects))

    def _bound_of(self, searched: Prospect | None, best: _Best) -> int:
        """Return the bound of one job; where states were dropped, that of the chain of moves."""
        if searched is None:
            return 0
        if searched.whole:
            return searched.bound
        job = searched.yard.job
        least = least_walking(
            job,
            self.legs.routes,
            best.steps if best.job == job else None,
            self.solver,
            seconds=self.limit_s * _BOUND_SHARE,
            lift_worth_mm=self.lift_worth_mm,
        )
        return least * self.scale.mm_worth

    def _plan_of(self, best: _Best, cost_bound: int, before: tuple[StageResult, ...]) -> Plan:
        """Return the checked plan with its last two stages: walking, or all as one cost, and breaks."""
        worth = self.scale.mm_worth
        cost, breaks = divmod(best.cost, worth)
        bound = max(cost_bound // worth, least_any_plan_walks(self.house))
        stage = _stage("walking_mm" if before else "cost_mm", cost, bound, *before)
        # The breaks were counted along: a bound on both is one on the breaks of plans that cost no more.
        least_breaks = cost_bound - cost * worth
        return self._checked(
            best.job, best.steps, (*before, stage, _stage("breaks", breaks, least_breaks, stage))
        )

    def merged(self) -> Plan:
        """One extra lift is worth so many metres: lifts and walking as one cost, then breaks."""
        refuse_heavy_frames(self.jobs[0])
        crew = self._better_crew()
        fewest = self._fewest_lifts(0)
        least = min((each.bound for each in fewest), default=0)
        best = self._crew_costs(crew)
        searched: list[Prospect | None] = []
        most_lifts = least
        while not self.out_of_time:
            opened = [self._prospect(replace(job, for_walking=True), most_lifts) for job in self.jobs]
            prospects = [found for found, _ in opened if found is not None]
            searched = [*prospects, *(None for _, whole in opened if not whole)]
            best = self._least(prospects, best, "cost_mm")
            most_lifts += 1
            beyond = self.lift_worth_mm * most_lifts + least_any_plan_walks(self.house)
            if best is not None and beyond * self.scale.mm_worth >= best.cost:
                break
            if len(searched) > len(prospects):
                break
        if best is None:
            return self._as_it_is(crew, least)
        # The states have no plan with more lifts, nor one that sets a frame aside twice: that has at
        # least one more lift than frames wait, and walks what any plan walks.
        twice = least + 1 if model_is_whole(self.house) else least
        other = self.lift_worth_mm * min(most_lifts, twice) + least_any_plan_walks(self.house)
        bound = min(self._cost_bound(best, searched), other * self.scale.mm_worth)
        return self._plan_of(best, bound, ())

    def _crew_costs(self, crew: Plan | None) -> _Best | None:
        if crew is None:
            return None
        cost = self._replayed(crew).cost
        merged = cost.merged_mm(self.house.scenario.stand.lift_worth_m)
        return _Best(self.jobs[0], steps_in(crew), self.scale.mm_worth * merged + cost.breaks)

    def _better_crew(self) -> Plan | None:
        """Return what the better unplanned crew does, and tell of it: there is a plan from the start."""
        job = self.jobs[0]
        crews = [
            crew(self.house, spots=job.spots, places=job.places, routes=self.legs.routes).plan
            for crew in (by_frame_list, by_nearest)
        ]
        plans = [plan for plan in crews if plan is not None]
        if not plans:
            return None
        best = min(plans, key=lambda plan: self._replayed(plan).cost.extra_lifts)
        least = min(len(job.surely_waiting) for job in self.jobs)
        self.solver.tell(STAGE, self._replayed(best).cost.extra_lifts, least)
        return best

    def _as_it_is(self, crew: Plan | None, lifts_bound: int) -> Plan:
        """Return what the unplanned crew does, which no search has bettered."""
        if crew is None:
            refuse_without_plan(self.jobs, self.solver)
            raise LimitError("the limit was reached before any plan was found")
        cost = self._replayed(crew).cost
        if self.lift_worth_mm:
            best = self._crew_costs(crew)
            assert best is not None  # noqa: S101 - there is a crew
            least = self.lift_worth_mm * lifts_bound + least_any_plan_walks(self.house)
            return self._plan_of(best, least * self.scale.mm_worth, ())
        best = _Best(self.jobs[0], steps_in(crew), self.scale.mm_worth * cost.walking_mm + cost.breaks)
        return self._plan_of(best, 0, (_stage("extra lifts", cost.extra_lifts, lifts_bound),))

    def _checked(self, job: Job, steps: Steps, stages: tuple[StageResult, ...]) -> Plan:
        used = {step.to_spot for step in steps}
        proposed = not self.house.scenario.spots
        proven = all(stage.status == "optimal" for stage in stages)
        plan = build_plan(
            self.house,
            steps,
            # Of the spots proposed only those that are used, so that nobody clears ground for nothing.
            spots={name: spot for name, spot in job.spots.items() if not proposed or name in used},
            places=job.places,
            stages=stages,
            status="optimal" if proven else "best found",
            routes=self.legs.routes,
        )
        violations = self._replayed(plan).violations
        if violations:
            raise AssertionError(f"the search and the check disagree: {violations[0]}")
        return plan

    def _replayed(self, plan: Plan) -> Replay:
        return replay(self.house, plan, self.legs.routes)


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
