"""The model of all loads, with as many frames as may be where they were delivered."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import combinations

from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged
from packseq.loading.lessons import Lesson
from packseq.loading.model import hint, ruled
from packseq.loading.search import LoadSearch
from packseq.loading.solve import solved
from packseq.loading.variables import LoadVariables
from packseq.plan.load import LaidPack
from packseq.plan.model import LapDirection
from packseq.standup.variables import Literal, total

_WORK_PER_SECOND = 0.03

Lessons = Mapping[LapDirection, tuple[Lesson, ...]]


def moved_at_most(
    search: LoadSearch, delivered: Sequence[LaidPack], count: int, known: Judged | None, lessons: Lessons
) -> tuple[Judged | None, float, Lessons]:
    """Return the load with the fewest extra lifts of those with so few frames moved, and the bound.

    Parameters
    ----------
    search
        The search, with its clock.
    delivered
        The packs as delivered.
    count
        How many frames may be moved at most.
    known
        A load that does with as many, if there is one.
    lessons
        What is known of the ways in; what was learnt besides comes back with it.
    """
    best: Judged | None = None
    bounds = []
    learnt = dict(lessons)
    for job in search.jobs:
        v, stays = _staying(job, delivered)
        v.model.add(total(stays.values()) >= len(stays) - count)
        v.model.minimize(v.extra_lifts)
        if known is not None:
            v.model.add(v.extra_lifts <= known.worth[0])
            hint(v, known.load.packs, known.order)
        answer = solved(
            job,
            v,
            search.standing[job.direction],
            search.solver,
            _WORK_PER_SECOND * search.limit_s,
            lessons=lessons.get(job.direction, ()),
        )
        learnt[job.direction] = answer.lessons
        bounds.append(min(answer.bound, math.inf if known is None else known.worth[0] + 1))
        if answer.judged is not None and (best is None or answer.judged.worth < best.worth):
            best = answer.judged
    return best, min(bounds), learnt


def _staying(job: LoadJob, delivered: Sequence[LaidPack]) -> tuple[LoadVariables, dict[str, Literal]]:
    """Return the model of a job and, for each frame, whether it stays where it was delivered."""
    v = ruled(job)
    stays: dict[str, Literal] = {name: v.model.new_bool_var(f"{name} stays") for name in job.names}
    for pack in delivered:
        layer = {
            name: total(depth * v.at[name, pack.name, depth] for depth in v.layers(pack.name))
            for name in pack.frames
        }
        depth_of = {name: depth for depth, each in enumerate(pack.layers) for name in each.frames}
        for name in pack.frames:
            v.model.add_implication(stays[name], v.inside[name, pack.name])
        for one, other in combinations(pack.frames, 2):
            both = [stays[one], stays[other]]
            if depth_of[one] == depth_of[other]:
                v.model.add(layer[one] == layer[other]).only_enforce_if(both)
            else:
                v.model.add(layer[one] < layer[other]).only_enforce_if(both)
    return v, stays
