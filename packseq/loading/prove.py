"""What is proven of loads: the fewest extra lifts, and that fewer packs will not do."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packseq.loading.job import LoadJob
from packseq.loading.judge import Judged
from packseq.loading.model import SELDOM_BROKEN, hint, ruled
from packseq.loading.solve import solved
from packseq.loading.standing import Standing
from packseq.loading.variables import LoadVariables
from packseq.plan.model import LapDirection
from packseq.standup.solver import Solver
from packseq.standup.variables import total


@dataclass(frozen=True, slots=True)
class Proof:
    """What a proof came to: no load has fewer extra lifts than `bound`; `found` is the best load seen.

    `impossible` tells that no load at all keeps the rules.
    """

    bound: int
    found: Judged | None
    impossible: bool = False


def fewest_lifts(
    jobs: Sequence[LoadJob],
    standing: Mapping[LapDirection, Standing],
    best: Judged | None,
    solver: Solver,
    work: float,
) -> Proof:
    """Look for loads with fewer extra lifts than the best known, or prove that there is none.

    Parameters
    ----------
    jobs
        A job for each direction.
    standing
        What may stand last, for each direction.
    best
        The best load known.
    solver
        Solver, clock and listener.
    work
        Deterministic work for each direction.
    """
    bounds = []
    for job in jobs:
        bound, best = _fewest(job, standing[job.direction], best, solver, work)
        bounds.append(bound)
    least = min(bounds)
    if best is None:
        return Proof(0 if math.isinf(least) else int(least), None, impossible=math.isinf(least))
    return Proof(int(min(least, best.worth[0])), best)


def _fewest(
    job: LoadJob, standing: Standing, best: Judged | None, solver: Solver, work: float
) -> tuple[float, Judged | None]:
    """Return the bound for one direction, and the best load: the one known or a better one.

    The bound is infinite where none is known and there is none.
    """
    v = ruled(job)
    v.model.minimize(v.extra_lifts)
    if best is not None:
        v.model.add(v.extra_lifts <= best.worth[0] - 1)
        hint(v, best.load.packs, best.order)
    bound = 0.0
    while True:
        answer = solved(job, v, standing, solver, work)
        bound = max(bound, answer.bound if best is None else min(answer.bound, best.worth[0]))
        found = answer.judged
        if found is None or (best is not None and found.worth[0] >= best.worth[0]):
            return bound, best
        best = found
        if best.worth[0] <= bound or not answer.sound:
            return bound, best
        v.model.add(v.extra_lifts <= best.worth[0] - 1)


def surely_more_packs(jobs: Sequence[LoadJob], lifts: int, packs: int, solver: Solver, work: float) -> bool:
    """Tell whether it is proven that no load with so few packs has at most so many extra lifts."""
    for job in jobs:
        for leave_out in (_ORDER_ALONE, SELDOM_BROKEN):
            v = ruled(job, leave_out=leave_out)
            limit_packs(v, packs)
            v.model.add(v.extra_lifts <= lifts)
            answer = solver.solve(v.model, work / 2, side_by_side=True)
            if answer.ending == "infeasible":
                break
        else:
            return False
    return True


_ORDER_ALONE = frozenset({"balance", "delivery-order", "layer-room"})
"""Rules without which the others can often be proven to conflict sooner."""


def limit_packs(v: LoadVariables, most: int) -> None:
    """Make no more than so many packs in all."""
    v.model.add(total(v.used[place, 0] for place in v.job.landings if v.layers(place)) <= most)
