"""From a house to its best load: fewest extra lifts on site, then fewest packs, then least walking."""

from __future__ import annotations

import random
import threading
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from math import floor
from typing import get_args

from packseq.check.loading import MeasuredPack
from packseq.errors import LimitError
from packseq.house.model import House
from packseq.loading.assemble import arranged
from packseq.loading.beam import Beam
from packseq.loading.bounds import fewest_packs, least_walking
from packseq.loading.front import Taste
from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged, better_landed, judge
from packseq.loading.prove import fewest_lifts, surely_more_packs
from packseq.loading.refuse import refuse_hopeless
from packseq.loading.standing import Standing, routes_of
from packseq.plan.load import Load
from packseq.plan.model import LapDirection, Plan, StageResult
from packseq.standup.progress import Listener
from packseq.standup.solver import Clock, Solver

_WORK_PER_SECOND = 250.0
"""Searches allowed for each second of the limit, for a house of one frame; a larger one takes longer."""
_LEAST_SEARCHES = 4
_MOST_SEARCHES = 200
_JUDGED_OF_A_SEARCH = 3
_PROOF_WORK_PER_SECOND = 0.15
_LIFTS, _PACKS = "extra lifts", "packs"


@dataclass(frozen=True)
class BestLoad:
    """The best load found and what is proven of it.

    Parameters
    ----------
    house
        The house with these packs delivered, in its scenario.
    load
        The packs as laid up and how they travel, in the order in which they are wanted.
    packs
        The same packs, measured.
    plan
        A plan that stands the house from these packs, replayed by the check: with it the site has the
        extra lifts that the load promises.
    stages
        Extra lifts, packs, walking in mm: value, bound that holds for every load, status.
    """

    house: House
    load: Load
    packs: tuple[MeasuredPack, ...]
    plan: Plan
    stages: tuple[StageResult, StageResult, StageResult]

    @property
    def extra_lifts(self) -> int:
        """The extra lifts that the load promises."""
        return self.stages[0].value


def best_load(
    house: House,
    *,
    limit_s: float,
    seed: int = 0,
    listener: Listener | None = None,
    stop: threading.Event | None = None,
) -> BestLoad:
    """Return the best load found for a house, checked by the rules of loading and by a replay.

    Parameters
    ----------
    house
        What is to stand; its scenario holds landing places, limits and decks. Its packs as delivered
        make no difference.
    limit_s
        Seconds that the search may take. Work is limited so that the same house, limit and seed
        give the same load; on a slow machine the seconds may run out first.
    seed
        Seed of the search.
    listener
        Called with the progress, now and then.
    stop
        Once set, the best checked load so far is returned.

    Raises
    ------
    NoPlanError
        No load keeps the limits.
    LimitError
        The limit was reached, or the search stopped, before there was a load.
    """
    refuse_hopeless(house)
    return LoadSearch(house, Solver(Clock(limit_s, stop), seed, listener), limit_s).best()


@dataclass(frozen=True)
class LoadSearch:
    """One search for the best load of a house, by one solver with its clock, work measured by `limit_s`."""

    house: House
    solver: Solver
    limit_s: float

    @cached_property
    def jobs(self) -> tuple[LoadJob, ...]:
        """A job for each direction, with as many packs as there may be."""
        wanted = self.house.scenario.stand.direction
        directions: tuple[LapDirection, ...] = get_args(LapDirection) if wanted == "auto" else (wanted,)
        plain = LoadJob(self.house, directions[0], {})
        most = {level: len(landings) for level, landings in plain.landings_on.items()}
        return tuple(LoadJob(self.house, direction, most) for direction in directions)

    @cached_property
    def standing(self) -> Mapping[LapDirection, Standing]:
        """What may stand last, for each direction."""
        routes = routes_of(self.jobs[0])
        return {job.direction: Standing(job, routes) for job in self.jobs}

    @cached_property
    def fewest(self) -> Mapping[int, int]:
        """The packs that no load of each level does with fewer than."""
        return {level: fewest_packs(self.jobs[0], level) for level in self.house.scenario.levels}

    @property
    def _size(self) -> float:
        """How much longer a search takes than that of a single frame."""
        return float(len(self.house.scenario.frames) ** 1.5)

    @property
    def searches(self) -> int:
        """How many searches the limit allows."""
        allowed = min(_MOST_SEARCHES, floor(_WORK_PER_SECOND * self.limit_s / self._size))
        return max(_LEAST_SEARCHES, allowed)

    def best(self) -> BestLoad:
        """Return the best load found.

        Raises
        ------
        LimitError
            When none was found in time.
        """
        best, bound = self.fewest_lifts()
        if best is None:
            raise LimitError("the limit was reached before any load was found")
        self.solver.tell(_PACKS, best.worth[1], sum(self.fewest.values()))
        dice = self._dice("packs")
        best, packs_bound = self._fewer_packs(dice, best, max(_LEAST_SEARCHES, self.searches // 4))
        self.solver.tell("walking_mm", best.worth[2], None)
        best = self._less_walking(self._dice("walking"), best, max(_LEAST_SEARCHES, self.searches // 2))
        return self._result(best, bound, packs_bound)

    def fewest_lifts(self) -> tuple[Judged | None, int]:
        """Return a load with as few extra lifts as could be found, None if there is none, and the bound."""
        best = self._first(self._dice("lifts"), max(_LEAST_SEARCHES, self.searches // 2))
        if best is not None:
            return best, 0
        best = self._with_lifts(self._dice("more lifts"), max(_LEAST_SEARCHES, self.searches // 2))
        work = self.limit_s * _PROOF_WORK_PER_SECOND
        proof = fewest_lifts(self.jobs, self.standing, best, self.solver, work)
        self.solver.tell(_LIFTS, None if proof.found is None else proof.found.worth[0], proof.bound)
        return proof.found, proof.bound

    def _dice(self, stage: str) -> random.Random:
        return random.Random(f"{stage} {self.solver.seed}")  # noqa: S311 - a search, nothing secret

    def _counts(self, most: int | None) -> list[Mapping[int, int]]:
        """Return how the packs may be shared out between the levels, as many as may be."""
        job = self.jobs[0]
        levels = sorted(job.packs)
        asked = self.house.scenario.load.most_packs
        room = sum(job.packs.values())
        total = min(room, room if asked is None else asked, room if most is None else most)
        ranges = [range(1, job.packs[level] + 1) for level in levels]
        return [dict(zip(levels, counts, strict=True)) for counts in product(*ranges) if sum(counts) == total]

    def _first(self, dice: random.Random, searches: int) -> Judged | None:
        """Search for a load that has nothing lifted twice."""
        return self._sought(
            dice, self._counts(None), searches, most_left_over=0, stop_at_first=True, leave=0.6
        )

    def _with_lifts(self, dice: random.Random, searches: int) -> Judged | None:
        """Search for loads in which some frames are lifted twice; if there is none, let any be."""
        frames = len(self.house.scenario.frames)
        best = None
        for allowed, leave in ((max(4, frames // 4), 0.3), (frames, 0.1)):
            if best is None:
                best = self._sought(
                    dice,
                    self._counts(None),
                    searches,
                    most_left_over=allowed,
                    stop_at_first=True,
                    least_lifts=1,
                    leave=leave,
                )
        return best

    def _fewer_packs(self, dice: random.Random, best: Judged, searches: int) -> tuple[Judged, int]:
        """Take packs away while that costs no extra lift; return the load and the proven bound."""
        bound = sum(self.fewest.values())
        while best.worth[1] > bound and self.solver.clock.left > 0:
            if self._needs(best, share=0.2):
                return best, best.worth[1]
            fewer = self._sought(
                dice,
                self._counts(best.worth[1] - 1),
                searches,
                most_left_over=best.worth[0],
                stop_at_first=True,
                least_lifts=best.worth[0],
                leave=0.3,
            )
            if fewer is None or fewer.worth[0] > best.worth[0]:
                return best, best.worth[1] if self._needs(best, share=1.0) else bound
            best = fewer
        return best, min(bound, best.worth[1])

    def _needs(self, best: Judged, share: float) -> bool:
        """Tell whether it is proven that one pack fewer costs more extra lifts, with a share of the work."""
        work = share * self.limit_s * _PROOF_WORK_PER_SECOND
        return surely_more_packs(self.jobs, best.worth[0], best.worth[1] - 1, self.solver, work)

    def _less_walking(self, dice: random.Random, best: Judged, searches: int) -> Judged:
        """Search on for loads as good that have less walked."""
        again = self._sought(
            dice,
            self._counts(best.worth[1]),
            searches,
            most_left_over=best.worth[0],
            stop_at_first=False,
            walking=0.02,
        )
        return best if again is None else min(best, again, key=lambda each: each.worth)

    def _sought(
        self,
        dice: random.Random,
        counts: Sequence[Mapping[int, int]],
        searches: int,
        *,
        most_left_over: int,
        stop_at_first: bool,
        least_lifts: int = 0,
        walking: float = 0.0,
        leave: float = 0.0,
    ) -> Judged | None:
        """Return the best load of so many searches that keeps every rule.

        With `stop_at_first` the first one with at most `least_lifts` ends it. A share `leave` of the
        seconds is left for what comes after.
        """
        best: Judged | None = None
        leave_s = leave * self.limit_s
        for number in range(searches):
            if self.solver.clock.left <= leave_s:
                return best
            job = replace(self.jobs[number % len(self.jobs)], packs=dice.choice(counts))
            taste = Taste(
                width=dice.choice((6, 10, 16)),
                most_left_over=most_left_over,
                walking=walking,
                noise=dice.choice((0.1, 0.3)),
                layers=dice.choice((0.05, 0.1, 0.3)),
                too_long_rows=dice.choice((1.0, 3.0, 10.0)),
            )
            for found in self._judged(job, taste, dice):
                if best is None or found.worth < best.worth:
                    best = found
                    self.solver.tell(_LIFTS, best.worth[0], 0)
                if stop_at_first and best.worth[0] <= least_lifts:
                    return best
        return best

    def _judged(self, job: LoadJob, taste: Taste, dice: random.Random) -> Iterator[Judged]:
        """Yield the loads of one search that keep every rule."""
        standing = self.standing[job.direction]
        for number, found in enumerate(Beam(job, standing).search(taste, dice)):
            if number >= _JUDGED_OF_A_SEARCH:
                return
            plain = arranged(job, found)
            moved = better_landed(job, plain)
            for each in (moved,) if moved == plain else (moved, plain):
                judged = judge(job, each, standing.routes)
                if judged.kept:
                    yield judged

    def _least_walking(self, lifts: int, packs: int) -> int:
        return min(
            least_walking(job, self.standing[job.direction].routes, packs, nothing_waits=lifts == 0)
            for job in self.jobs
        )

    def _result(self, best: Judged, lifts_bound: int, packs_bound: int) -> BestLoad:
        lifts, packs, walking = best.worth
        first = _stage(_LIFTS, lifts, lifts_bound)
        second = _stage(_PACKS, packs, packs_bound, first)
        third = _stage("walking_mm", walking, self._least_walking(lifts, packs), second)
        plan = best.plan
        return BestLoad(best.house, best.load, best.packs, plan, (first, second, third))


def _stage(name: str, value: int, bound: int, before: StageResult | None = None) -> StageResult:
    """Return a stage's result: optimal only if proven, and only on top of a stage that is."""
    bound = max(0, min(bound, value))
    proven = bound == value and (before is None or before.status == "optimal")
    return StageResult(name=name, value=value, bound=bound, status="optimal" if proven else "best found")
