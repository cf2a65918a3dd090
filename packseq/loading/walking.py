"""What is walked at least with any load: a length that none of so many packs is below."""

from __future__ import annotations

from collections.abc import Mapping

from ortools.sat.python import cp_model

from packseq.check.rules import ORDER_RULES
from packseq.loading.job import LoadJob, unstacked
from packseq.loading.standing import landing_stop
from packseq.routes.engine import Routes
from packseq.routes.values import frame_stop
from packseq.standup.job import Job
from packseq.standup.solver import Clock, Solver
from packseq.standup.variables import Literal, total

_WORK = 1.0
_MOST_S = 5.0

Legs = dict[tuple[str, str], int]
"""By frame and landing place, in mm."""


def least_walking(job: LoadJob, routes: Routes, packs: int, *, nothing_waits: bool) -> int | None:
    """Return a length in mm that no load of so many packs has less walked than; None if there is no load.

    Each frame is carried from the landing place of its pack, and no place takes more mass than it may.
    Where `nothing_waits`, that is past what the rules of standing alone have standing by then, and from each
    line but the last the team goes on to a pack: to each as often as frames are taken from it, but for the
    first of all. Else it may go by spots, and only the straight way past nothing counts.

    Parameters
    ----------
    job
        The job with its limits.
    routes
        The routes from every landing place.
    packs
        The most packs there may be.
    nothing_waits
        Whether only loads without extra lifts are asked for.
    """
    carried, back = _legs(job, routes, nothing_waits=nothing_waits)
    model = cp_model.CpModel()
    fetched = {key: model.new_bool_var("") for key in carried}
    used = {place: model.new_bool_var("") for place in job.landings}
    for (_, place), here in fetched.items():
        model.add_implication(here, used[place])
    for name in job.names:
        model.add_exactly_one(here for (frame, _), here in fetched.items() if frame == name)
    for place in job.landings:
        heavy = total(job.grams[name] * here for (name, other), here in fetched.items() if other == place)
        model.add(heavy <= job.most_grams[place])
    model.add(total(used.values()) <= packs)
    walked = [mm * fetched[key] for key, mm in carried.items()]
    if nothing_waits:
        goes = _goes_back(model, job, fetched, back)
        walked += [mm * goes[key] for key, mm in back.items()]
    model.minimize(total(walked))
    # A clock of its own: this takes a moment, and is wanted most where the search ran out of time.
    answer = Solver(Clock(_MOST_S)).solve(model, _WORK, side_by_side=False)
    return None if answer.ending == "infeasible" else max(0, answer.bound or 0)


def _goes_back(
    model: cp_model.CpModel, job: LoadJob, fetched: Mapping[tuple[str, str], Literal], back: Legs
) -> dict[tuple[str, str], Literal]:
    """Return literals that say to which pack the team goes on from each line."""
    goes: dict[tuple[str, str], Literal] = {key: model.new_bool_var("") for key in back}
    last = {name: model.new_bool_var("") for name in job.names}
    first = {place: model.new_bool_var("") for place in job.landings}
    model.add_exactly_one(last.values())
    model.add_exactly_one(first.values())
    for name in job.names:
        model.add_exactly_one(last[name], *(on for (frame, _), on in goes.items() if frame == name))
    for place in job.landings:
        comes = total(on for (_, other), on in goes.items() if other == place)
        taken = total(here for (_, other), here in fetched.items() if other == place)
        model.add(comes + first[place] == taken)
    return goes


def _legs(job: LoadJob, routes: Routes, *, nothing_waits: bool) -> tuple[Legs, Legs]:
    """Return the shortest walks with each frame from each place, and on from its line to each place."""
    later = Job(unstacked(job.house), job.direction, {}, {}, frozenset(ORDER_RULES)).later
    carried: Legs = {}
    back: Legs = {}
    for name in job.names:
        frame = job.scenario.frames[name]
        surely = frozenset(other for other in job.names if nothing_waits and name in later[other])
        for landing in job.landings.values():
            at, line = landing_stop(landing), frame_stop(frame)
            there = routes.leg(at, line, frame, surely) if frame.level == landing.level else None
            if there is not None:
                carried[name, landing.name] = there.mm
            on = routes.leg(line, at, None, surely | {name})
            if on is not None:
                back[name, landing.name] = on.mm
    return carried, back
