"""Many searches for loads, one after another, each with another taste; what keeps every rule is kept."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from typing import get_args

from packseq.house.model import House
from packseq.loading.assemble import arranged
from packseq.loading.beam import Beam
from packseq.loading.best import LIFTS
from packseq.loading.front import Taste
from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged, better_landed, judge
from packseq.loading.standing import Standing, routes_of
from packseq.plan.model import LapDirection
from packseq.standup.solver import Solver

_WORK_PER_SECOND = 250.0
"""Searches allowed for each second of the limit, for a house of one frame; a larger one takes longer."""
_LEAST_SEARCHES = 4
_MOST_SEARCHES = 200
_JUDGED_OF_A_SEARCH = 3
_NARROW = 4
_WIDTHS = (60, 40, 20)
"""Part-built loads kept side by side: so many for a house of up to `_FRAMES_FOR_WIDTH`, else fewer."""
_FRAMES_FOR_WIDTH = 60


@dataclass(frozen=True, slots=True)
class Aim:
    """What searches are for: loads of at most so many packs, with at most so many frames left over.

    The first load with `enough` extra lifts or fewer ends them (None: never), as do `patience` searches
    without a better one once there is any. `walking` is what a metre walked costs in a search, `leave` the
    share of the seconds that is left for what comes after. A `narrow` search is quick and poor.
    """

    searches: int
    most_packs: int | None = None
    most_left_over: int = 0
    enough: int | None = 0
    patience: int = 12
    walking: float = 0.0
    leave: float = 0.0
    narrow: bool = False


@dataclass(frozen=True)
class Seeker:
    """Searches for loads of a house, by one solver with its clock, work measured by `limit_s`."""

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

    @property
    def searches(self) -> int:
        """How many searches the limit allows."""
        size = math.pow(len(self.house.scenario.frames), 1.5)
        return max(_LEAST_SEARCHES, min(_MOST_SEARCHES, math.floor(_WORK_PER_SECOND * self.limit_s / size)))

    def share(self, part: float) -> int:
        """Return a part of these searches, a few at least."""
        return max(_LEAST_SEARCHES, math.floor(part * self.searches))

    def sought(self, name: str, aim: Aim) -> Judged | None:
        """Return the best load of so many searches that keeps every rule; `name` makes their chances."""
        dice = random.Random(f"{name} {self.solver.seed}")  # noqa: S311 - a search, nothing secret
        counts = self._counts(aim.most_packs)
        best: Judged | None = None
        since = 0

        def is_late() -> bool:
            return self.solver.clock.left <= aim.leave * self.limit_s

        for number in range(aim.searches):
            if is_late() or not counts:
                return best
            job = replace(self.jobs[number % len(self.jobs)], packs=dice.choice(counts))
            since += best is not None
            for found in self._judged(job, self._taste(aim, dice), dice, is_late):
                if best is None or found.worth < best.worth:
                    best, since = found, 0
                    self.solver.tell(LIFTS, best.worth[0], 0)
                if aim.enough is not None and best.worth[0] <= aim.enough:
                    return best
            if since >= aim.patience:
                return best
        return best

    def _counts(self, most: int | None) -> list[Mapping[int, int]]:
        """Return how the packs may be shared out between the levels, as many as may be."""
        job = self.jobs[0]
        levels = sorted(job.packs)
        asked = self.house.scenario.load.most_packs
        room = sum(job.packs.values())
        total = min(room, room if asked is None else asked, room if most is None else most)
        ranges = [range(1, job.packs[level] + 1) for level in levels]
        return [dict(zip(levels, counts, strict=True)) for counts in product(*ranges) if sum(counts) == total]

    def _taste(self, aim: Aim, dice: random.Random) -> Taste:
        frames = len(self.house.scenario.frames)
        narrower = max(1, -(-frames // _FRAMES_FOR_WIDTH))
        return Taste(
            width=_NARROW if aim.narrow else dice.choice(_WIDTHS) // narrower,
            most_left_over=aim.most_left_over,
            walking=aim.walking,
            noise=dice.choice((0.1, 0.3)),
            layers=dice.choice((0.05, 0.1, 0.3)),
            too_long_rows=dice.choice((1.0, 3.0, 10.0)),
        )

    def _judged(
        self, job: LoadJob, taste: Taste, dice: random.Random, is_late: Callable[[], bool]
    ) -> Iterator[Judged]:
        """Yield the loads of one search that keep every rule."""
        standing = self.standing[job.direction]
        tried: set[object] = set()
        for found in Beam(job, standing).search(taste, dice, is_late):
            if len(tried) >= _JUDGED_OF_A_SEARCH:
                return
            plain = arranged(job, found)
            moved = better_landed(job, plain)
            if moved in tried:
                continue
            tried.add(moved)
            for each in (moved,) if moved == plain else (moved, plain):
                judged = judge(job, each, standing.routes)
                if judged.kept:
                    yield judged


def best_of(candidates: Sequence[Judged | None]) -> Judged | None:
    """Return the best of the loads there are; None where there is none."""
    there = [each for each in candidates if each is not None]
    return min(there, key=lambda each: each.worth, default=None)
