"""The fewest changes to packs as delivered that get the extra lifts down, one number after another."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import NamedTuple

from packseq.check.loading import measured
from packseq.house.model import House
from packseq.loading.assemble import Arranged, balanced
from packseq.loading.best import LIFTS, BestLoad
from packseq.loading.job import limited
from packseq.loading.judge import Judged, judge
from packseq.loading.keeping import Guess, Keeping
from packseq.loading.moved import moved_between
from packseq.loading.packing import packed_alike
from packseq.loading.pulling import pulled_one_by_one
from packseq.loading.search import LoadSearch
from packseq.loading.staying import Lessons, moved_at_most
from packseq.plan.load import LaidPack, as_laid
from packseq.plan.model import Plan
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.model import Scenario
from packseq.standup.solver import Clock, Solver

_KEEPING_WORK_PER_SECOND, _AGAIN_WORK_PER_SECOND = 0.02, 0.1
_ALIKE_WORK_PER_SECOND = 0.1
_LEFT_FOR_PROOF, _LEFT_FOR_MODEL = 0.7, 0.1


@dataclass(frozen=True)
class Change:
    """One way of changing the delivered packs.

    Parameters
    ----------
    extra_lifts
        The extra lifts that the changed packs cost on site.
    moved
        The frames that lie in another pack, or otherwise among those of their own pack, in their
        file's order.
    at_least
        What is proven: so many frames at least have to be moved for so few extra lifts.
    packs
        The changed packs, top layer first.
    """

    extra_lifts: int
    moved: tuple[str, ...]
    at_least: int
    packs: tuple[LaidPack, ...]

    @property
    def proven(self) -> bool:
        """Whether fewer frames moved would not do."""
        return len(self.moved) == self.at_least


@dataclass(frozen=True)
class Changes:
    """The delivered packs' extra lifts, and the changes that lower them.

    `eased` tells which limits the delivered packs break themselves; those are taken as delivered.
    """

    delivered_lifts: int
    delivered_proven: bool
    eased: tuple[str, ...]
    steps: tuple[Change, ...]


def fewest_changes(
    house: House,
    plan: Plan,
    best: BestLoad,
    *,
    limit_s: float,
    seed: int = 0,
    stop: threading.Event | None = None,
) -> Changes:
    """Return the fewest frames to be moved for each lower number of extra lifts.

    A frame that is not moved stays in its pack, above, below or beside the same frames that stay there too.
    The changed packs keep every limit that the delivered packs keep.

    Parameters
    ----------
    house
        The house with its packs as delivered.
    plan
        The plan that stands it from these, with what is proven of it.
    best
        The best load known, whatever it changes.
    limit_s
        Seconds for all of it.
    seed
        Seed of the search.
    stop
        Once set, what is found so far is returned.
    """
    delivered = tuple(
        as_laid(pack, house.scenario.frames, house.scenario.load) for pack in house.scenario.packs.values()
    )
    limits, eased = as_delivered(house.scenario, delivered)
    search = LoadSearch(limited(house, limits), Solver(Clock(limit_s, stop), seed), limit_s)
    return _Changing(search, delivered, plan, best, eased).found()


def as_delivered(scenario: Scenario, packs: Sequence[LaidPack]) -> tuple[LoadLimits, tuple[str, ...]]:
    """Return the limits, each as wide as these packs take it, and the keys of those that were widened."""
    limits = scenario.load
    each = [measured(pack, scenario) for pack in packs]
    off = max(max(abs(along), abs(across)) for along, across in (pack.centre_mm for pack in each))
    needs = {
        "most_kg": max(pack.mass_kg for pack in each),
        "most_layers": max(len(pack.layers) for pack in each),
        "most_height_mm": max(pack.height_mm for pack in each),
        "longest_mm": max(pack.length_mm for pack in each),
        "widest_mm": max(pack.width_mm for pack in each),
        "overhang_mm": max(pack.overhang_mm for pack in each),
        "balance_mm": off,
    }
    wider = {key: need for key, need in needs.items() if need > getattr(limits, key) + 1e-6}
    changed = replace(limits, **wider)  # type: ignore[arg-type]
    held = {frame: pack.name for pack in packs for frame in pack.frames}
    together = tuple(group for group in limits.together if len({held[name] for name in group}) == 1)
    apart = tuple(group for group in limits.apart if len({held[name] for name in group}) == len(group))
    others = {"together": together != limits.together, "apart": apart != limits.apart}
    eased = (*wider, *(key for key, is_wider in others.items() if is_wider))
    return replace(changed, together=together, apart=apart), eased


class _Way(NamedTuple):
    """Packs that keep every rule, and the extra lifts they cost."""

    lifts: int
    packs: tuple[LaidPack, ...]


def _lifts_of(plan: Plan) -> tuple[int, int]:
    """Return a plan's extra lifts, and what every plan of its job needs at least."""
    lifts = sum(move.do == "set aside" for move in plan.moves)
    bound = next((stage.bound for stage in plan.stages if stage.name == LIFTS), 0)
    return lifts, min(lifts, bound)


@dataclass(frozen=True)
class _Changing:
    search: LoadSearch
    delivered: tuple[LaidPack, ...]
    plan: Plan
    best: BestLoad
    eased: tuple[str, ...]

    def found(self) -> Changes:
        """Move frames one by one along known orders; then prove what so many, and one more, come to."""
        clock = self.search.solver.clock
        lifts, proven = _lifts_of(self.plan)
        ways = list(self._pulled())
        ways.append(_Way(self.best.extra_lifts, self.best.load.packs))
        least = min(way.lifts for way in ways)
        at_least = self._alike(lifts, ways)
        least_lifts: list[float] = [proven]
        lessons: Lessons = {}
        known: Judged | None = None
        reached = lifts
        while (
            reached > least and clock.left > 0 and len(least_lifts) <= len(self.search.house.scenario.frames)
        ):
            count = len(least_lifts)
            best = min((way.lifts for way in ways if len(self._moved(way)) <= count), default=lifts)
            if at_least.get(best - 1, 0) > count:
                least_lifts.append(best)
                reached = min(reached, best)
                continue
            known, bound, lessons = moved_at_most(self.search, self.delivered, count, known, lessons)
            least_lifts.append(bound)
            if known is not None and known.worth[0] < reached:
                reached = known.worth[0]
                ways.append(_Way(reached, known.load.packs))
        changes = [self._change(way, least_lifts, at_least) for way in ways if way.lifts < lifts]
        return Changes(lifts, proven >= lifts, self.eased, _worth_telling(changes))

    def _alike(self, lifts: int, ways: list[_Way]) -> Mapping[int, int]:
        """Return, for each lower number of extra lifts, how many frames must be moved at least.

        The stand orders that this is proven with mostly show how as few will do: what that gives joins
        the ways.
        """
        solver = self.search.solver
        keeping = Keeping(self.search.jobs, self.search.standing, self.delivered, solver)
        bounds: dict[int, int] = {}
        # None at all first, which matters most; then from above, where few frames do and proofs are short.
        for again, fewer in product((False, True), (0, *range(lifts - 1, 0, -1))):
            known = min((len(self._moved(way)) for way in ways if way.lifts <= fewer), default=None)
            if known is None:
                continue
            if solver.clock.left < _LEFT_FOR_MODEL * self.search.limit_s:
                break
            # Fewer lifts never take fewer frames.
            surely = max((bound for more, bound in bounds.items() if more >= fewer), default=0)
            work = self.search.limit_s * (_AGAIN_WORK_PER_SECOND if again else _KEEPING_WORK_PER_SECOND)
            least = keeping.at_least(fewer, range(surely, known), work, again=again)
            bounds[fewer] = least.moved
            if least.moved < known:
                guesses = least.guesses if fewer else (*least.guesses, self._order_of(self.best.plan))
                ways += [way for guess in guesses if (way := self._packed_alike(guess)) is not None]
        return {
            fewer: max((bound for more, bound in bounds.items() if more >= fewer), default=0)
            for fewer in range(lifts)
        }

    def _pulled(self) -> Iterator[_Way]:
        """Yield the packs with one frame more put elsewhere each time, stood in the order of the plan."""
        guess = self._order_of(self.plan)
        job = next(job for job in self.search.jobs if job.direction == guess.direction)
        routes = self.search.standing[job.direction].routes
        for packs in pulled_one_by_one(job, self.delivered, guess.order):
            if self.search.solver.clock.left < _LEFT_FOR_PROOF * self.search.limit_s:
                return
            even = tuple(balanced(pack, job.scenario) for pack in packs)
            judged = judge(job, Arranged(even, guess.order), routes)
            if judged.kept:
                yield _Way(judged.worth[0], judged.load.packs)

    def _order_of(self, plan: Plan) -> Guess:
        """Return the stand order of a plan, as if nothing were set aside."""
        order = tuple(move.frame for move in plan.moves if move.do == "stand")
        return Guess(plan.direction or self.search.jobs[0].direction, order, order)

    def _packed_alike(self, guess: Guess) -> _Way | None:
        job = next(job for job in self.search.jobs if job.direction == guess.direction)
        standing = self.search.standing[job.direction]
        work = _ALIKE_WORK_PER_SECOND * self.search.limit_s
        packs = packed_alike(job, standing, guess, self.search.solver, delivered=self.delivered, work=work)
        judged = None if packs is None else judge(job, packs, standing.routes)
        return None if judged is None or not judged.kept else _Way(judged.worth[0], judged.load.packs)

    def _moved(self, way: _Way) -> tuple[str, ...]:
        return moved_between(self.delivered, way.packs, tuple(self.search.house.scenario.frames))

    def _change(self, way: _Way, least_lifts: Sequence[float], at_least: Mapping[int, int]) -> Change:
        """Return what a load changes; `least_lifts` are proven for 0, 1, 2... frames moved."""
        moved = self._moved(way)
        too_few = [count for count, least in enumerate(least_lifts) if least > way.lifts]
        proven = max(max(too_few, default=-1) + 1, at_least.get(way.lifts, 0))
        return Change(way.lifts, moved, min(len(moved), proven), way.packs)


def _worth_telling(changes: Sequence[Change]) -> tuple[Change, ...]:
    """Return the changes of which none moves as few frames and leaves as few extra lifts."""
    told: list[Change] = []
    for change in sorted(changes, key=lambda each: (len(each.moved), each.extra_lifts, -each.at_least)):
        if not told or change.extra_lifts < told[-1].extra_lifts:
            told.append(change)
    return tuple(told)
