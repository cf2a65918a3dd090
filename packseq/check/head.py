"""What the head of a plan says, held against what is so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from packseq.check.cost import Cost
from packseq.check.job import Job, listed
from packseq.check.setting import unsound
from packseq.house.model import House
from packseq.plan.model import Plan, PlannedSpot, StageResult
from packseq.scenario.limits import MOST_SPOTS
from packseq.scenario.model import Place
from packseq.scenario.names import name_key


def held_open_in(house: House, stood: Iterable[str]) -> tuple[str, ...]:
    """Return the perimeter frames stood after the first internal frame of their level, in order."""
    begun: set[int] = set()
    held = []
    for name in stood:
        level = house.level_of[name]
        if name in level.internals:
            begun.add(level.level)
        elif level.level in begun:
            held.append(name)
    return tuple(held)


def misstated_head(job: Job, plan: Plan) -> Iterator[str]:
    """Say what the head of a plan states about scenario, places, spots and direction that is not so."""
    scenario = job.house.scenario
    if plan.scenario != scenario.name:
        yield f"the plan is for {plan.scenario}, not for {scenario.name}"
    if plan.scenario_sha256 != scenario.sha256:
        yield "the scenario's files have changed since the plan was made"
    yield from _misstated_places(job, plan)
    if scenario.spots:
        yield from _changed_spots(job, plan)
    else:
        yield from _unsound_spots(job, plan)
    if plan.moves and plan.direction != job.direction:
        yield f"the lap goes {job.direction}, the plan says {plan.direction or 'none'}"


def _misstated_places(job: Job, plan: Plan) -> Iterator[str]:
    packs = job.house.scenario.packs
    for name, pack in packs.items():
        stated = plan.places.get(name)
        if stated is None:
            yield f"the plan gives pack {name} no place"
        elif Place((stated[0], stated[1]), stated[2]) not in pack.places:
            yield f"pack {name} lies at a place that the scenario does not give it"
    unknown = [name for name in plan.places if name not in packs]
    if unknown:
        yield f"the plan places packs that there are not: {listed(unknown)}"


def _changed_spots(job: Job, plan: Plan) -> Iterator[str]:
    declared = job.house.scenario.spots
    seen: set[str] = set()
    for planned in plan.spots:
        if planned.name in seen:
            yield f"spot {planned.name} is given twice"
        elif planned.name not in declared:
            yield f"spot {planned.name} is not one of the scenario's"
        elif planned != PlannedSpot.of(declared[planned.name]):
            yield f"spot {planned.name} differs from the scenario's"
        seen.add(planned.name)
    left_out = [name for name in declared if name not in seen]
    if left_out:
        yield f"the plan leaves out spots of the scenario: {listed(left_out)}"


def _unsound_spots(job: Job, plan: Plan) -> Iterator[str]:
    if len(plan.spots) > MOST_SPOTS:
        yield f"the plan proposes {len(plan.spots)} spots; only the first {MOST_SPOTS} are taken"
    seen: set[str] = set()
    for planned in plan.spots:
        key = name_key(planned.name)
        reason = unsound(planned, job.house)
        if key in seen:
            yield f"spot {planned.name} is given twice"
        elif reason is not None:
            yield f"spot {planned.name} {reason}"
        seen.add(key)


def misstated_outcome(job: Job, plan: Plan, stood: tuple[str, ...], cost: Cost) -> Iterator[str]:
    """Say what a plan leaves undone, and what it states about its outcome that is not so."""
    house = job.house
    standing = frozenset(stood)
    missing = [name for name in job.wanted if name not in standing]
    if missing:
        yield f"never stood: {listed(missing)}"
    against = [name for name in plan.left_out if name in standing]
    if against:
        yield f"left out, but standing: {listed(against)}"
    walls = {name for level in house.levels for name in level.reference}
    for label, stated, true in (
        ("the reference wall is", plan.reference, tuple(name for name in stood if name in walls)),
        ("held open:", plan.held_open, held_open_in(house, stood)),
    ):
        if stated != true:
            yield f"{label} {listed(true) or 'none'}, the plan says {listed(stated) or 'none'}"
    yield from _misstated_stages(job, plan, cost)


def _misstated_stages(job: Job, plan: Plan, cost: Cost) -> Iterator[str]:
    lift_worth_m = job.choices.lift_worth_m
    values = {"extra lifts": cost.extra_lifts, "walking_mm": cost.walking_mm, "breaks": cost.breaks}
    if lift_worth_m > 0:
        values["cost_mm"] = cost.merged_mm(lift_worth_m)
    seen: set[str] = set()
    for stage in plan.stages:
        if stage.name in seen:
            yield f"stage {stage.name} is given twice"
        elif stage.name not in values:
            yield f"{stage.name} is no stage of this job"
        elif stage.value != values[stage.name]:
            yield f"{stage.name} truly {values[stage.name]}, the plan says {stage.value}"
        yield from _misstated_bound(stage)
        seen.add(stage.name)
    proven = bool(plan.stages) and all(stage.status == "optimal" for stage in plan.stages)
    if plan.status == "optimal" and not proven:
        yield "the plan says optimal, but not every stage is"
    if plan.status == "none" and plan.moves:
        yield "the plan says that there is none, but has moves"


def _misstated_bound(stage: StageResult) -> Iterator[str]:
    if stage.bound > stage.value:
        yield f"stage {stage.name} has a bound of {stage.bound} above its value of {stage.value}"
    if stage.status == "optimal" and stage.bound != stage.value:
        yield f"stage {stage.name} says optimal, but its bound is not its value"
