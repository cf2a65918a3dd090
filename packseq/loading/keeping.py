"""How many frames must be moved at least for so few extra lifts, whatever packs they are moved to."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from packseq.check.rules import ORDER_RULES
from packseq.loading.job import LoadJob, unstacked
from packseq.loading.lessons import Lesson, without_a_way
from packseq.loading.standing import Standing
from packseq.plan.load import LaidPack
from packseq.plan.model import LapDirection
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.solver import Solver
from packseq.standup.variables import Literal, Variables, total

_MOST_ROUNDS = 20


@dataclass(frozen=True, slots=True)
class Guess:
    """A stand order for which few frames may have to be moved, and the order of lifting off the packs."""

    direction: LapDirection
    order: tuple[str, ...]
    lifted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Least:
    """So many frames must be moved at least; `guesses` are how few might do."""

    moved: int
    guesses: tuple[Guess, ...] = ()


class Keeping:
    """Bounds on the frames moved, asked of what is not moved alone.

    Of the frames that are not moved, every two lie above one another as delivered. One that stands after
    another beneath it, or has no way in from its pack any more, is set aside, whatever becomes of those
    that are moved. What the limits of packs say is not asked, so the true numbers may be higher.
    """

    def __init__(
        self,
        jobs: Sequence[LoadJob],
        standing: Mapping[LapDirection, Standing],
        delivered: Sequence[LaidPack],
        solver: Solver,
    ) -> None:
        self._each = [_Kept(job, standing[job.direction], delivered, solver) for job in jobs]

    def at_least(self, lifts: int, between: range, work: float, *, again: bool = False) -> Least:
        """Return how many frames must be moved at least for no more than so many extra lifts.

        Parameters
        ----------
        lifts
            The extra lifts that there may be.
        between
            From a number of frames that fewer than surely will not do, up to one that is known to do.
        work
            Deterministic work for each direction and round.
        again
            Whether to search another way than the first time, which may find another order.
        """
        found = [kept.at_least(lifts, between, work, again=again) for kept in self._each]
        found.sort(key=lambda each: each.moved)
        return Least(found[0].moved, tuple(guess for each in found for guess in each.guesses))


class _Kept:
    """One direction of standing, and what was learnt of its ways in."""

    def __init__(
        self, job: LoadJob, standing: Standing, delivered: Sequence[LaidPack], solver: Solver
    ) -> None:
        self._job, self._standing, self._solver = job, standing, solver
        self._house = Job(unstacked(job.house), job.direction, {}, {}, frozenset(ORDER_RULES))
        self._pack_of = {name: pack.name for pack in delivered for name in pack.frames}
        self._lessons = [*_stacked(delivered), *self._on_lines(delivered)]
        self._depth = {
            name: depth
            for pack in delivered
            for depth, layer in enumerate(pack.layers)
            for name in layer.frames
        }

    def at_least(self, lifts: int, between: range, work: float, *, again: bool = False) -> Least:
        least = Least(between.start)
        if not between:
            return least
        for _ in range(_MOST_ROUNDS):
            v = _Variables(self._house)
            for lesson in self._lessons:
                v.model.add_bool_or(v.literals(lesson, self._pack_of))
            v.model.add(total(v.waits.values()) <= lifts)
            v.model.add_linear_constraint(total(v.moved.values()), least.moved, between.stop - 1)
            v.model.minimize(total(v.moved.values()))
            answer = self._solver.solve(v.model, work, side_by_side=again, from_below=not again)
            if answer.ending == "infeasible":
                return Least(between.stop)
            least = replace(least, moved=max(least.moved, answer.bound or 0))
            if not answer:
                break
            order = tuple(sorted(self._job.names, key=lambda name: answer[v.standing.up[name]]))
            waiting = [name for name in order if answer.true(v.waits[name])]
            moved = {name for name in order if answer.true(v.moved[name])}
            least = replace(least, guesses=(self._guess(order, moved),))
            new = self._learnt(order, waiting, moved)
            if not new:
                break
            self._lessons += new
        return least

    def _guess(self, order: tuple[str, ...], moved: Collection[str]) -> Guess:
        """Return the order with the frames that are not moved lifted before any such beneath them."""
        turn = {name: place for place, name in enumerate(order)}
        off = dict(turn)
        kept = sorted((name for name in order if name not in moved), key=lambda name: -self._depth[name])
        for name in kept:
            beneath = (
                off[lower]
                for lower in kept
                if self._pack_of[lower] == self._pack_of[name] and self._depth[lower] > self._depth[name]
            )
            off[name] = min(off[name], *beneath, off[name])
        lifted = sorted(order, key=lambda name: (off[name], off[name] == turn[name], self._depth[name]))
        return Guess(self._job.direction, order, tuple(lifted))

    def _learnt(self, order: Sequence[str], waiting: Collection[str], moved: Collection[str]) -> list[Lesson]:
        """Return what frames that are not moved, and those that can be moved nowhere, teach of ways in."""
        every = without_a_way(order, self._pack_of, waiting, self._standing)
        kept = [lesson for lesson in every if not any(name in moved for name, _ in lesson.elsewhere)]
        return [*kept, *self._from_nowhere(order, frozenset(moved).difference(waiting))]

    def _from_nowhere(self, order: Sequence[str], moved: Collection[str]) -> Iterator[Lesson]:
        """Yield, for each frame moved that has a way from no landing place, that another is later."""
        for place, name in enumerate(order):
            if name in moved:
                level = self._job.scenario.frames[name].level
                by = [
                    self._standing.shut_off_by(name, landing, order[:place])
                    for landing in self._job.landings_on[level]
                ]
                shut = [others for others in by if others is not None]
                if len(shut) == len(by):
                    later = frozenset().union(*shut)
                    yield Lesson(tuple((name, other) for other in sorted(later)), waits=(name,))

    def _on_lines(self, delivered: Sequence[LaidPack]) -> Iterator[Lesson]:
        """Yield that a frame is gone before a line is stood that its pack lies on, large as it is."""
        job, standing = self._job, self._standing
        for pack in delivered:
            longest = max(pack.frames, key=lambda name: (job.length_mm[name], name))
            tallest = max(pack.frames, key=lambda name: (job.width_mm[name], name))
            size = (float(job.length_mm[longest]), float(job.width_mm[tallest]))
            for line in sorted(standing.covered(standing.landing(pack.name), *size)):
                for name in pack.frames:
                    if name != line:
                        makers = tuple((each, pack.name) for each in sorted({longest, tallest, name}))
                        yield Lesson(((name, line),), makers, waits=(name,))


class _Variables:
    """The rules of standing, and for each frame whether it is moved, and whether it is set aside."""

    def __init__(self, house: Job) -> None:
        self.standing = Variables(house, timed=False)
        for name in sorted(ORDER_RULES):
            RULES[name](self.standing)
        self.model = self.standing.model
        self.moved: dict[str, Literal] = {
            name: self.model.new_bool_var(f"{name} moved") for name in house.frames
        }
        self.waits: dict[str, Literal] = {
            name: self.model.new_bool_var(f"{name} waits") for name in house.frames
        }

    def literals(self, lesson: Lesson, pack_of: Mapping[str, str]) -> list[Literal]:
        """Return a lesson as literals of which one must hold; a frame lies elsewhere only if it is moved."""
        return [
            *(self.standing.before(earlier, later) for earlier, later in lesson.before),
            *(self.moved[name] for name, place in lesson.elsewhere if pack_of[name] == place),
            *(self.waits[name] for name in lesson.waits),
            *(~self.waits[name] for name in lesson.not_waits),
        ]


def _stacked(delivered: Sequence[LaidPack]) -> Iterator[Lesson]:
    """Yield that of two frames the upper one is stood first, or waits, or one of them is moved."""
    for pack in delivered:
        for depth, layer in enumerate(pack.layers):
            for lower in (name for under in pack.layers[depth + 1 :] for name in under.frames):
                for name in layer.frames:
                    yield Lesson(((name, lower),), ((name, pack.name), (lower, pack.name)), waits=(name,))
