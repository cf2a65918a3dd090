"""From a house to a checked plan: both directions and every landing, and the best of them."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from packseq.errors import LimitError, NoPlanError
from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.routes.engine import build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.landing import MOST_LANDINGS, landings
from packseq.standup.begun import Begun
from packseq.standup.bounds import least_any_plan_lifts, least_any_plan_walks, model_is_whole
from packseq.standup.conflict import refuse_heavy_frames, refuse_without_plan
from packseq.standup.found import Found, PlanWriter, stage_result
from packseq.standup.freeing import HasPlan
from packseq.standup.front import Front, settled_fronts
from packseq.standup.job import Job
from packseq.standup.jobs import all_jobs, begun_jobs
from packseq.standup.known import KnownPlans
from packseq.standup.leastcost import LeastCost
from packseq.standup.lifts import STAGE
from packseq.standup.progress import Listener
from packseq.standup.solver import Clock, Solver
from packseq.standup.states.best import Prospect, open_prospect
from packseq.standup.states.bits import Numbered
from packseq.standup.states.corridor import Searched
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.yard import Yard
from packseq.standup.trying import plan_by_trying

# Work allowed for each second of the limit, in moves passed, so that on a machine of ordinary speed
# the work runs out before the clock does and the plan is the same every time.
_WORK_PER_SECOND = 2_000_000
# Seconds that a plan may take to be found for a house in which something was changed.
_MOMENT_S = 1.5
# The share of the limit that may go into trying what the model leaves out.
_TRYING_SHARE = 0.3


def plan_standup(
    house: House,
    *,
    limit_s: float,
    seed: int = 0,
    listener: Listener | None = None,
    stop: threading.Event | None = None,
    begun: Begun | None = None,
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
    begun
        Where the plan begins, if not with everything as delivered. It is then no worse than any plan known
        from there.

    Raises
    ------
    NoPlanError
        No plan keeps the rules.
    LimitError
        The limit was reached, or the search stopped, before there was a plan.
    """
    clock = Clock(limit_s, stop)
    solver = Solver(clock, seed, listener)
    if begun is None:
        search = _search(house, solver, limit_s, has_plan=lambda other: _has_plan(other, clock.stop))
    else:
        search = _search(house, solver, limit_s, has_plan=lambda _: False, begun=begun)
    return search.merged() if search.lift_worth_mm else search.staged()


def _search(
    house: House, solver: Solver, limit_s: float, has_plan: HasPlan, begun: Begun | None = None
) -> _Search:
    if begun is None:
        jobs = all_jobs(house)
        stops = {spot_stop(spot): None for job in jobs for spot in job.spots.values()}
        routes = build_routes(house.scenario, stops)
    else:
        jobs, routes = begun_jobs(house, begun), begun.routes
    legs = LegTable(routes, Numbered(jobs[0].frames))
    return _Search(house, jobs, legs, solver, limit_s, has_plan, begun)


def _has_plan(house: House, stop: threading.Event) -> bool:
    """Tell whether a plan for a house is found in a moment; whether one is the best is not asked."""
    search = _search(house, Solver(Clock(_MOMENT_S, stop)), _MOMENT_S, has_plan=lambda _: False)
    return search.has_plan_at_once()


@dataclass(frozen=True)
class _Search:
    house: House
    jobs: tuple[Job, ...]
    legs: LegTable
    solver: Solver
    limit_s: float
    has_plan: HasPlan
    """Tells whether a house with one thing changed has a plan, to say what would free one without."""
    begun: Begun | None = None

    @property
    def lift_worth_mm(self) -> int:
        return whole_mm(self.house.scenario.stand.lift_worth_m * 1000)

    @property
    def scale(self) -> Scale:
        worth = 1 << len(self.house.scenario.frames).bit_length()
        return Scale(worth, worth * self.lift_worth_mm)

    @cached_property
    def writer(self) -> PlanWriter:
        return PlanWriter(
            self.house, self.legs.routes, self.scale, None if self.begun is None else self.begun.begin
        )

    @cached_property
    def known(self) -> KnownPlans:
        return KnownPlans(self.house, self.jobs, self.writer, self.begun)

    @property
    def least_cost(self) -> LeastCost:
        return LeastCost(
            self.house, self.legs.routes, self.solver, self.scale, self.limit_s, begun=self.begun is not None
        )

    @cached_property
    def least_walks(self) -> int:
        """What every plan walks at least, in mm."""
        return least_any_plan_walks(self.jobs[0])

    @property
    def out_of_time(self) -> bool:
        return self.solver.clock.left <= 0

    def staged(self) -> Plan:
        """Extra lifts first, then walking, then breaks."""
        refuse_heavy_frames(self.jobs[0])
        crew = self._best_known()
        lifts = None if crew is None else self.known.lifts(crew)
        fronts = self._fronts(lifts, crew)
        bound = self._lifts_bound(fronts)
        found = [front.lifts for front in fronts if front.found is not None]
        lifts = min([*found, *([] if lifts is None else [lifts])], default=None)
        settled = all(front.settled(lifts) for front in fronts)
        if (lifts is None or (lifts > bound and settled)) and self.begun is None and not self.out_of_time:
            # The model sets a frame aside once, and on spots only: what is left may be found by trying.
            tight = plan_by_trying(
                self.jobs,
                self.legs,
                self.writer,
                self.solver,
                limit_s=self.limit_s * _TRYING_SHARE,
                has_plan=self.has_plan,
            )
            bound = max(bound, tight.bound)
            if tight.plan is not None and (lifts is None or tight.lifts < lifts):
                crew, lifts = tight.plan, tight.lifts
                self.solver.tell(STAGE, lifts, bound)
        if lifts is None:
            return self._as_it_is(crew, bound)
        contenders = [front for front in fronts if front.bound <= lifts]
        with_as_few = [front for front in contenders if front.lifts == lifts]
        known = [front.found for front in with_as_few if front.found is not None]
        if crew is not None and self.known.lifts(crew) <= lifts:
            known.append(self.known.found(crew))
        best = min(known, key=lambda each: each.cost, default=None)
        self._tell("walking_mm", best, ())
        opened = [front.prospect() for front in with_as_few]
        prospects = [each for each in opened if each is not None]
        best = self._least(prospects, best, "walking_mm")
        if best is None:
            return self._as_it_is(crew, bound)
        if not opened or not all(each is not None and each.whole for each in opened):
            best = self._closer(best, contenders, prospects, "walking_mm")
        stage = stage_result("extra lifts", sum(step.do == "set aside" for step in best.steps), bound)
        return self.writer.planned(best, self.least_cost.as_few_lifts(best, contenders, lifts), (stage,))

    def _lifts_bound(self, fronts: Sequence[Front]) -> int:
        """Return how many extra lifts every plan has, also with the packs landed as none was searched."""
        if landings(self.house.scenario).left_out:
            return min(least_any_plan_lifts(job) for job in self.jobs)
        return min(front.bound for front in fronts)

    def has_plan_at_once(self) -> bool:
        """Tell whether a crew without a plan, or the first round of the search, gets all frames stood."""
        try:
            refuse_heavy_frames(self.jobs[0])
            return self._best_known() is not None or any(front.found for front in self._fronts(None))
        except NoPlanError:
            return False

    def _fronts(self, at_most: int | None, crew: Plan | None = None) -> list[Front]:
        """Return every job searched for its fewest extra lifts, as far as it may have as few as another."""
        fronts = settled_fronts(
            self.jobs,
            self.legs,
            self.solver,
            self.scale,
            limit_s=self.limit_s,
            at_most=at_most,
            known=None if crew is None or self.begun is not None else self.known.found(crew),
        )
        if not any(front.possible for front in fronts):
            refuse_without_plan(self.jobs, self.legs, self.solver, self.has_plan)
        return fronts

    def _least(
        self, prospects: Sequence[Searched], best: Found | None, stage: str, done: int = 0
    ) -> Found | None:
        """Search in turn where the bound is least, until no bound is less than what the best plan costs.

        `done` is the work that was done on the same before.
        """
        most_work = self.limit_s * _WORK_PER_SECOND - done
        for each in prospects:
            if each.cost is not None and (best is None or each.cost < best.cost):
                best = Found(each.yard.job, each.steps, each.cost)
        while not self.out_of_time and sum(each.work for each in prospects) < most_work:
            most = int(FAR) if best is None else best.cost
            live = [each for each in prospects if each.bound < most]
            if not live:
                break
            first = min(live, key=lambda each: each.bound)
            same_way = best if best and best.job.direction == first.yard.job.direction else None
            first.go_on(most, lambda: self.out_of_time, same_way.stands if same_way else ())
            if first.cost is not None and first.cost < most:
                best = Found(first.yard.job, first.steps, first.cost)
            self._tell(stage, best, prospects)
        self._tell(stage, best, prospects)
        return best

    def _closer(
        self, best: Found, fronts: Sequence[Front], searched: Sequence[Searched], stage: str
    ) -> Found:
        """Return a plan no worse than the best, looked for close to it with what work is left."""
        if any(step.to_pack is not None for step in best.steps):
            return best
        alike = (
            front
            for front in fronts
            if (front.job.direction, front.job.places) == (best.job.direction, best.job.places)
        )
        done = sum(each.work for each in searched)
        return self._least([front.corridor(best) for front in alike], best, stage, done) or best

    def _tell(self, stage: str, best: Found | None, prospects: Sequence[Searched]) -> None:
        worth = self.scale.mm_worth
        value = None if best is None else best.cost // worth
        searched = min((each.bound if each.whole else 0 for each in prospects), default=0) // worth
        bound = max(searched, self.least_walks)
        self.solver.tell(stage, value, bound if value is None else min(bound, value))

    def merged(self) -> Plan:
        """One extra lift is worth so many metres: lifts and walking as one cost, then breaks."""
        refuse_heavy_frames(self.jobs[0])
        crew = self._best_known()
        fronts = self._fronts(None)
        least = self._lifts_bound(fronts)
        known = [front.found for front in fronts if front.found is not None]
        known += [] if crew is None else [self.known.found(crew)]
        best = min(known, key=lambda each: each.cost, default=None)
        bound, most_lifts = 0, least
        prospects, all_opened = list[Prospect](), True
        # No plan of the states has more lifts than there are frames to be moved.
        while not self.out_of_time and all_opened and most_lifts <= len(self.jobs[0].moved):
            prospects, all_opened = self._opened_with(fronts, most_lifts)
            best = self._least(prospects, best, "cost_mm")
            if not all_opened:
                break
            most_lifts += 1
            # The states have no plan with more lifts, nor one that sets a frame aside twice: that has at
            # least one more lift than frames wait, and walks what any plan walks.
            twice = min(front.waiting for front in fronts) + 1 if model_is_whole(self.house) else least
            other = (self.lift_worth_mm * min(most_lifts, twice) + self.least_walks) * self.scale.mm_worth
            bound = max(bound, min(self.least_cost.as_opened(prospects), other))
            beyond = (self.lift_worth_mm * most_lifts + self.least_walks) * self.scale.mm_worth
            if best is not None and beyond >= best.cost:
                break
        if best is None:
            return self._as_it_is(crew, least)
        if not all_opened:
            best = self._closer(best, fronts, prospects, "cost_mm")
        any_plan = (self.lift_worth_mm * least + self.least_walks) * self.scale.mm_worth
        return self.writer.planned(best, min(best.cost, max(bound, any_plan)), ())

    def _opened_with(self, fronts: Sequence[Front], most_lifts: int) -> tuple[list[Prospect], bool]:
        """Return the searches over plans with at most so many lifts, and whether all of them were opened."""
        jobs = [replace(front.job, for_walking=True) for front in fronts]
        opened = [
            open_prospect(Yard(job, self.legs), most_lifts, self.scale, stopped=lambda: self.out_of_time)
            for job in jobs
        ]
        return [each for each, _ in opened if each is not None], all(fits for _, fits in opened)

    def _best_known(self) -> Plan | None:
        """Return the best plan there is before any search, and tell of it."""
        best = self.known.best()
        if best is not None:
            least = min(len(job.surely_waiting) for job in self.jobs)
            self.solver.tell(STAGE, self.known.lifts(best), least)
        return best

    def _as_it_is(self, crew: Plan | None, lifts_bound: int) -> Plan:
        """Return what the unplanned crew does, which no search has bettered."""
        if crew is None:
            # With one cost a frame may also be set aside that need not be.
            jobs = [replace(job, for_walking=job.for_walking or self.lift_worth_mm > 0) for job in self.jobs]
            refuse_without_plan(jobs, self.legs, self.solver, self.has_plan)
            if not self.out_of_time and landings(self.house.scenario).left_out:
                raise LimitError(
                    f"no plan was found for the {MOST_LANDINGS} ways in which the packs were tried to land;"
                    " there are more: give fewer places, or others"
                )
            raise LimitError("the limit was reached before any plan was found")
        best = self.known.found(crew)
        if self.lift_worth_mm:
            least = self.lift_worth_mm * lifts_bound + self.least_walks
            return self.writer.planned(best, least * self.scale.mm_worth, ())
        return self.writer.planned(
            best, 0, (stage_result("extra lifts", self.known.lifts(crew), lifts_bound),)
        )
