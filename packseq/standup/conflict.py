"""Why there is no plan: the rules in conflict, in trade words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from packseq.errors import Conflict, NoPlanError
from packseq.standup.job import Job
from packseq.standup.lifts import ruled
from packseq.standup.solver import Solver

# Proving a model without a plan is quick or hopeless; deterministic units of the solver.
_WORK = 4.0


def refuse_heavy_frames(job: Job) -> None:
    """Raise NoPlanError naming every frame that needs more people than the crew has."""
    crew = job.scenario.crew
    heavy = [
        Conflict(
            ("crew-lift",),
            f"{frame.name} ({frame.mass_kg:g} kg) needs {crew.team(frame.mass_kg)} people;"
            f" the crew has {crew.people}",
        )
        for frame in job.scenario.frames.values()
        if crew.team(frame.mass_kg) > crew.people
    ]
    if heavy:
        raise NoPlanError(heavy)


def refuse_without_plan(jobs: Sequence[Job], solver: Solver) -> None:
    """Raise NoPlanError if it is proven that no job has a plan; else return.

    The rules named are in conflict with one another, and dropping any one of them would end it.
    """
    if not all(_impossible(job, solver) for job in jobs):
        return
    job = jobs[0]
    for name in sorted(job.rules):
        fewer = replace(job, rules=job.rules - {name})
        if _impossible(fewer, solver):
            job = fewer
    raise NoPlanError([Conflict(tuple(sorted(job.rules)), _why(job))])


def _impossible(job: Job, solver: Solver) -> bool:
    v = ruled(job, timed=True)
    answer = solver.solve(v.model, None, _WORK, side_by_side=False)
    return answer.ending == "infeasible"


def _why(job: Job) -> str:
    without_spot = [frame for frame in sorted(job.surely_waiting) if not job.spots_for(frame)]
    if without_spot:
        return "; ".join(_nowhere_to_wait(job, frame) for frame in without_spot)
    if "spot-room" in job.rules:
        room = sum(spot.holds for spot in job.spots.values())
        return (
            f"the frames that must wait have no room on the spots, which hold {room} in all, if each is set"
            " aside once and none is set down on a pack; more spots, a lean instead of a pile, or another"
            " pack order would free it"
        )
    return "these rules cannot all be kept with the packs as loaded"


def _nowhere_to_wait(job: Job, frame: str) -> str:
    value = job.scenario.frames[frame]
    lower = next(lower for lower in job.beneath(frame) if frame in job.later[lower])
    return (
        f"{frame} lies above {lower}, which is stood first, but no spot of level {value.level}"
        f" takes a frame {value.length_mm:.0f} mm long and {value.height_mm:.0f} mm high"
    )
