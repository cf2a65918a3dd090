"""Solving the loading model until an answer passes both checks, or it is proven that none does."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from packseq.loading.assemble import waits_in
from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged, judge
from packseq.loading.lessons import Lesson, without_a_way
from packseq.loading.model import hint, read_back
from packseq.loading.rules import RULES
from packseq.loading.standing import Standing
from packseq.loading.variables import LoadVariables
from packseq.standup.solver import Answer, Solver
from packseq.standup.variables import Literal

_MOST_ROUNDS = 30
_MOST_PASSED_OVER = 5
"""Answers that nothing general can be learnt from, after which a search through the model is given up."""


@dataclass(frozen=True, slots=True)
class Solved:
    """A checked answer, None where there is none, and what the objective is at least in any load.

    `bound` is infinite where it is proven that there is none. `lessons` are those given and new ones. The
    answer may cost more than the objective of the model: frames that wait on packs may be lifted again.
    Unless `sound`, the model now leaves out answers without a reason, and proves no more.
    """

    judged: Judged | None
    bound: float
    lessons: tuple[Lesson, ...]
    sound: bool = True


def solved(
    job: LoadJob,
    v: LoadVariables,
    standing: Standing,
    solver: Solver,
    work: float,
    *,
    lessons: Sequence[Lesson] = (),
) -> Solved:
    """Solve a model again and again, telling it each time why its answer fails a check.

    Parameters
    ----------
    job
        The job; its limits are what the answers are held to.
    v
        The model with its objective.
    standing
        What may stand last, with the routes.
    solver
        Solver, clock and listener.
    work
        Deterministic work for each round.
    lessons
        What is known already of this house in this direction.
    """
    bound, passed_over = 0.0, 0
    dearer: Judged | None = None
    known = list(lessons)
    for lesson in known:
        v.model.add_bool_or(_literals(lesson, v))
    for _ in range(_MOST_ROUNDS):
        answer = solver.solve(v.model, work, side_by_side=True)
        if answer.ending == "infeasible":
            sound = not passed_over
            return Solved(dearer, math.inf if sound else bound, tuple(known), sound=sound)
        if not passed_over and answer.bound is not None:
            bound = max(bound, float(answer.bound))
        if not answer or passed_over == _MOST_PASSED_OVER:
            break
        judged = judge(job, read_back(v, answer), standing.routes)
        lifts = sum(answer.true(lifted) for lifted in (*v.aside.values(), *v.again.values()))
        if judged.kept and judged.worth[0] <= lifts:
            return Solved(judged, bound, tuple(known), sound=not passed_over)
        if judged.kept and (dearer is None or judged.worth < dearer.worth):
            dearer = judged
        waiting = _waiting(judged)
        new = [
            *without_a_way(judged.order, judged.house.scenario.pack_of, waiting, standing),
            *_covered(v.job, judged, standing),
        ]
        known += new
        if not new and any(fault.rule == "balance" for fault in judged.faults):
            RULES["balance"](v)
        elif not new:
            # Nothing that holds for every load tells why it fails: pass it over, and prove no more.
            passed_over += 1
            new = [_passed_over(v, answer, judged)]
        for lesson in new:
            v.model.add_bool_or(_literals(lesson, v))
        v.model.clear_hints()  # type: ignore[no-untyped-call]
        hint(v, judged.load.packs, judged.order)
    return Solved(dearer, bound, tuple(known), sound=not passed_over)


def _covered(job: LoadJob, judged: Judged, standing: Standing) -> Iterator[Lesson]:
    """Yield, for each frame on whose line a pack still lies, that what is left there goes first."""
    scenario = judged.house.scenario
    rank = {name: place for place, name in enumerate(judged.order)}
    waits = _waiting(judged)
    for pack in scenario.packs.values():
        longest = max(pack.frames, key=lambda name: (job.length_mm[name], name))
        tallest = max(pack.frames, key=lambda name: (job.width_mm[name], name))
        for name in sorted(standing.covered(standing.landing(pack.name), pack.length_mm, pack.width_mm)):
            for other in pack.frames:
                if other != name and other not in waits and rank[other] > rank[name]:
                    makers = sorted({longest, tallest, other})
                    elsewhere = tuple((each, pack.name) for each in makers)
                    yield Lesson(((other, name),), elsewhere, waits=(other,))


def _waiting(judged: Judged) -> frozenset[str]:
    waits = waits_in(judged.load.packs, judged.order, judged.house.scenario)
    return frozenset(wait.frame.name for wait in waits)


def _passed_over(v: LoadVariables, answer: Answer, judged: Judged) -> Lesson:
    """Return that not the same frames wait and are stood in the same order among themselves."""
    waiting = tuple(name for name in judged.order if answer.true(v.aside[name]))
    return Lesson(tuple((later, earlier) for earlier, later in pairwise(waiting)), not_waits=waiting)


def _literals(lesson: Lesson, v: LoadVariables) -> list[Literal]:
    """Return a lesson as literals of a model, of which one must hold."""
    return [
        *(v.standing.before(earlier, later) for earlier, later in lesson.before),
        *(~v.inside[name, place] for name, place in lesson.elsewhere),
        *(v.aside[name] for name in lesson.waits),
        *(~v.aside[name] for name in lesson.not_waits),
    ]
