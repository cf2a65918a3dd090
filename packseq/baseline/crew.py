"""A crew that looks no further than the next frame."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce

from packseq.check import Replay, replay
from packseq.check.job import Job, Lift, listed
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.check.walking import drop_point
from packseq.geometry import Point
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.plan.legs import Legs, StraightLegs
from packseq.plan.model import LapDirection, Plan
from packseq.scenario.model import Place, Spot


@dataclass(frozen=True)
class Unplanned:
    """What came of it: a plan, or None and why the crew got stuck."""

    plan: Plan | None
    reason: str | None = None


@dataclass(frozen=True)
class Scene:
    """What the crew sees when it chooses: where it is (None at first) and what lies where."""

    job: Job
    legs: Legs
    state: State
    team_at: Point | None

    def lift(self, name: str, target: Heap | None) -> Lift | None:
        """Return the lift of a frame onto its line (`target` None) or a heap; None if it stands."""
        source = self.state.lies.get(name)
        if source is None:
            return None
        scenario = self.job.house.scenario
        frame = scenario.frames[name]
        return Lift(self.job, self.state, frame, source, target, scenario.crew.team(frame.mass_kg))

    def after(self, lift: Lift) -> Scene:
        """Return the scene once a lift is done."""
        state = self.state.after(lift.frame.name, lift.target)
        return replace(self, state=state, team_at=drop_point(lift))

    def empty_mm(self, name: str) -> int:
        """Return the walk to where a frame lies, 0 before the first lift."""
        heap = self.state.lies.get(name)
        if heap is None or self.team_at is None:
            return 0
        level = self.job.house.scenario.frames[name].level
        pick_up = self.job.centre(heap)
        return self.legs.leg(self.team_at, pick_up, None, self.state.standing, level).mm

    def carried_mm(self, lift: Lift) -> int:
        """Return the walk with a frame from where it lies to where it goes."""
        start, end = self.job.centre(lift.source), drop_point(lift)
        return self.legs.leg(start, end, lift.frame, self.state.standing, lift.frame.level).mm


Choice = Callable[[Scene, Sequence[str]], Iterable[str]]
"""Puts the frames that do not stand yet in the order in which the crew would try them."""


def unplanned(
    house: House,
    choice: Choice,
    *,
    spots: Mapping[str, Spot] | None = None,
    places: Mapping[str, Place] | None = None,
    legs: Legs | None = None,
) -> Unplanned:
    """Return how a crew would stand a house without a plan, in the better direction.

    Each time the crew takes the first frame of its choice that may be stood and that it can
    get at; whatever lies above it goes to the nearest heap with room. The better direction has
    fewer extra lifts, then less walking.

    Parameters
    ----------
    house
        The house to stand.
    choice
        How the crew chooses.
    spots
        The spots there are; the scenario's unless given.
    places
        The place of every pack; the first of each unless given.
    legs
        How the team walks; straight lines unless given.
    """
    scenario = house.scenario
    there = scenario.spots if spots is None else spots
    at = {name: pack.places[0] for name, pack in scenario.packs.items()} if places is None else places
    ways = legs or StraightLegs()
    asked = scenario.stand.direction
    directions: tuple[LapDirection, ...] = ("anticlockwise", "clockwise") if asked == "auto" else (asked,)
    plans: list[Plan] = []
    reasons: list[str] = []
    for direction in directions:
        job = Job(house, there, at, direction)
        steps = _steps(Scene(job, ways, job.delivered, None), choice)
        if isinstance(steps, str):
            reasons.append(f"{direction}: {steps}")
        else:
            plans.append(build_plan(house, steps, spots=there, places=at, legs=ways))
    if not plans:
        return Unplanned(None, "; ".join(reasons))
    return Unplanned(min(plans, key=lambda plan: _worth(replay(house, plan, ways))))


def _worth(done: Replay) -> tuple[int, int]:
    return (done.cost.extra_lifts, done.cost.walking_mm)


def _steps(scene: Scene, choice: Choice) -> tuple[Step, ...] | str:
    """Return the lifts that stand the whole house, or why the crew gets no further."""
    lifts: list[Lift] = []
    frames = scene.job.house.scenario.frames
    while waiting := [name for name in frames if name not in scene.state.standing]:
        allowed = (name for name in choice(scene, waiting) if _may_be_stood(scene, name))
        found = next((done for name in allowed if (done := _fetched(scene, name)) is not None), None)
        if found is None:
            stood = len(scene.state.stood)
            return f"stuck with {stood} of {len(frames)} frames stood: {_stuck(scene, waiting)}"
        lifts.extend(found)
        scene = reduce(Scene.after, found, scene)
    return tuple(_step(lift) for lift in lifts)


def _may_be_stood(scene: Scene, name: str) -> bool:
    lift = scene.lift(name, None)
    return lift is not None and next(broken_rules(lift, ORDER_RULES), None) is None


def _fetched(scene: Scene, name: str) -> tuple[Lift, ...] | None:
    """Return the lifts that unpack a frame and stand it, None where something has no room."""
    lifts: list[Lift] = []
    for above in scene.state.above(name):
        lift = _put_aside(scene, above)
        if lift is None:
            return None
        lifts.append(lift)
        scene = scene.after(lift)
    last = scene.lift(name, None)
    if last is None or next(broken_rules(last), None) is not None:
        return None
    return (*lifts, last)


def _put_aside(scene: Scene, name: str) -> Lift | None:
    """Return the lift of a frame to the nearest other heap with room, None if there is none."""
    source = scene.state.lies.get(name)
    lifts = (scene.lift(name, heap) for heap in scene.state.heaps if heap != source)
    kept = [lift for lift in lifts if lift is not None and next(broken_rules(lift), None) is None]
    return min(kept, key=lambda lift: (scene.carried_mm(lift), str(lift.target)), default=None)


def _stuck(scene: Scene, waiting: Sequence[str]) -> str:
    allowed = [name for name in waiting if _may_be_stood(scene, name)]
    if not allowed:
        return "no frame may be stood next"
    return f"no way to get at {listed(allowed)} with the room that is left"


def _step(lift: Lift) -> Step:
    match lift.target:
        case None:
            return Step("stand", lift.frame.name)
        case Heap("pack", name):
            return Step("set aside", lift.frame.name, to_pack=name)
        case Heap(_, name):
            return Step("set aside", lift.frame.name, to_spot=name)
