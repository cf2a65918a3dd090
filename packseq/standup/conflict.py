"""Why there is no plan: the rules in conflict, in trade words, and what would free them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NoReturn

from packseq.errors import Conflict, NoPlanError
from packseq.scenario.landing import landings
from packseq.standup.freeing import HasPlan, freed_by
from packseq.standup.job import Job, ShutOut, across
from packseq.standup.lifts import fewest_lifts, ruled
from packseq.standup.solver import Solver
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.yard import Yard

# Proving a model without a plan is quick or hopeless; deterministic units of the solver.
_WORK = 4.0
_MOST_NAMED = 6


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


def refuse_without_plan(jobs: Sequence[Job], legs: LegTable, solver: Solver, has_plan: HasPlan) -> None:
    """Raise NoPlanError if it is proven that no job has a plan and no landing is left out; else return.

    The rules named are in conflict with one another, and dropping any one of them would end it.
    """
    if landings(jobs[0].scenario).left_out:
        return
    without = [_without_plan(job, legs, solver) for job in jobs]
    if None in without:
        return
    job = next(each for each in without if each is not None)
    for name in sorted(job.rules):
        fewer = _without_plan(replace(job, rules=job.rules - {name}, shut_out=()), legs, solver)
        if fewer is not None:
            job = fewer
    needed = tuple(_needed(job, solver)) if "way-in" in job.rules else ()
    raise _refusal(job, _why(job, needed), frozenset(known.frame for known in needed), has_plan)


def refuse_as_tried(job: Job, further: Iterable[str], has_plan: HasPlan) -> NoReturn:
    """Raise NoPlanError where every order of lifts was tried, and none keeps all rules.

    Parameters
    ----------
    job
        The job.
    further
        Rules that were kept besides those on order, packs, spots and crew.
    has_plan
        Tells whether a house with one thing changed has a plan.
    """
    rules = job.rules - {"way-in", "ground-clear"} | frozenset(further)
    text = "no order of lifts keeps all of these rules, however often frames are set aside"
    raise _refusal(replace(job, rules=rules), text, job.surely_waiting, has_plan)


def _refusal(job: Job, why: str, shut_out: frozenset[str], has_plan: HasPlan) -> NoPlanError:
    if "spot-room" in job.rules and job.spots != job.scenario.spots:
        why = f"{why} (with the spots that packseq proposes: if there is room elsewhere, give it as [[spot]])"
    freeing = freed_by(job, shut_out, has_plan)
    text = f"{why}. What would free it: {'; or '.join(freeing)}" if freeing else why
    return NoPlanError([Conflict(tuple(sorted(job.rules)), text)])


def _without_plan(job: Job, legs: LegTable, solver: Solver) -> Job | None:
    """Return the job, knowing what shuts frames out, if it is proven to have no plan."""
    if any(pack.holds for pack in job.scenario.packs.values()):
        # The model sets nothing down on packs: so it cannot say that there is no room.
        job = replace(job, rules=job.rules - {"spot-room"})
    if "way-in" in job.rules:
        orders = fewest_lifts(Yard(job, legs), solver)
        job = replace(job, shut_out=orders.job.shut_out)
        if not orders.possible:
            return job
    if job.begun:
        # The model with times knows no beginning but everything as delivered.
        return None
    return job if _infeasible(job, solver) else None


def _infeasible(job: Job, solver: Solver) -> bool:
    v = ruled(job, timed=True)
    return solver.solve(v.model, _WORK, side_by_side=False).ending == "infeasible"


def _needed(job: Job, solver: Solver) -> Iterator[ShutOut]:
    """Yield what shuts frames out and is needed for the conflict."""
    kept = job.shut_out
    for known in job.shut_out:
        fewer = tuple(other for other in kept if other != known)
        if _infeasible(replace(job, shut_out=fewer), solver):
            kept = fewer
        else:
            yield known


def _why(job: Job, needed: Sequence[ShutOut]) -> str:
    without_spot = [frame for frame in sorted(job.surely_waiting) if not job.spots_for(frame)]
    if without_spot and "spot-room" in job.rules:
        return "; ".join(_nowhere_to_wait(job, frame) for frame in without_spot)
    if needed:
        return "; ".join(_no_way_in(job, known) for known in needed)
    if "ground-clear" in job.rules:
        return "; ".join(_covered(job))
    if "spot-room" in job.rules:
        room = sum(spot.holds for spot in job.spots.values())
        return (
            f"the frames that must wait have no room on the spots, which hold {room} in all, if each is set"
            " aside once and none is set down on a pack"
        )
    return "these rules cannot all be kept with the packs as loaded"


def _nowhere_to_wait(job: Job, frame: str) -> str:
    value = job.scenario.frames[frame]
    lower = next(lower for lower in job.beneath(frame) if frame in job.later[lower])
    return (
        f"{frame} lies above {lower}, which is stood first, but no spot of level {value.level}"
        f" takes a frame {value.length_mm:.0f} mm long and {value.height_mm:.0f} mm high"
    )


def _no_way_in(job: Job, known: ShutOut) -> str:
    start = (
        f"from pack {job.scenario.pack_of[known.frame]}" if known.unless_aside else "from where it may wait"
    )
    if not known.by:
        return f"{known.frame} has no way in {start}: no-go areas shut it off"
    return f"{known.frame} has no way in {start} once {_named(sorted(known.by))} stand"


def _covered(job: Job) -> Iterator[str]:
    scenario = job.scenario
    for name, lines in job.across.items():
        if lines:
            yield f"pack {name} lies across where {_named(lines)} must stand"
    for spot in job.spots.values():
        lines = across(scenario, spot.footprint, spot.level)
        if lines:
            yield f"spot {spot.name} lies across where {_named(lines)} must stand"


def _named(frames: Sequence[str]) -> str:
    if len(frames) == 1:
        return frames[0]
    if len(frames) > _MOST_NAMED:
        return f"{', '.join(frames[:_MOST_NAMED])} and {len(frames) - _MOST_NAMED} more"
    return f"{', '.join(frames[:-1])} and {frames[-1]}"
