"""A crew that looks no further than the next frame."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce

from packseq.check import Replay, replay
from packseq.check.job import Job, Lift, listed
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.house.model import House
from packseq.plan.begin import Begin, as_begun
from packseq.plan.build import Step, build_plan
from packseq.plan.direction import directions_from
from packseq.plan.model import Plan
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop, spot_stop
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
    state: State
    team_at: Stop | None

    def lift(self, name: str, target: Heap | None) -> Lift | None:
        """Return the lift of a frame onto its line (`target` None) or a heap; None if it stands."""
        source = self.state.lies.get(name)
        if source is None:
            return None
        scenario = self.job.house.scenario
        frame = scenario.frames[name]
        people = scenario.crew.team(frame.mass_kg)
        return Lift(self.job, self.state, frame, source, target, people, self.team_at)

    def after(self, lift: Lift) -> Scene:
        """Return the scene once a lift is done."""
        state = self.state.after(lift.frame.name, lift.target)
        return replace(self, state=state, team_at=lift.drop)

    def away_mm(self, heap: Heap) -> float:
        """Return the walk to a heap: 0 before the first lift, endless where there is no way."""
        if self.team_at is None:
            return 0
        leg = self.job.routes.leg(self.team_at, self.job.stop(heap), None, self.state.standing)
        return math.inf if leg is None else leg.mm

    def shut_out(self) -> Iterator[str]:
        """Yield the frames still to be stood that have no way any more from where they lie to their line."""
        job, standing = self.job, self.state.standing
        frames, wanted = job.house.scenario.frames, frozenset(job.wanted)
        for heap in self.state.heaps:
            stop = job.stop(heap)
            for name in self.state.lying(heap):
                frame = frames[name]
                if name in wanted and not job.routes.is_open(stop, frame_stop(frame), frame, standing):
                    yield name


Choice = Callable[[Scene, Sequence[str]], Iterable[str]]
"""Puts the frames that do not stand yet in the order in which the crew would try them."""


def unplanned(
    house: House,
    choice: Choice,
    *,
    spots: Mapping[str, Spot] | None = None,
    places: Mapping[str, Place] | None = None,
    routes: Routes | None = None,
    begin: Begin | None = None,
) -> Unplanned:
    """Return how a crew would stand a house without a plan, in the better direction.

    Each time the crew takes the first frame of its choice that may be stood, that it can get at,
    and that does not shut another frame out from its line; whatever lies above it goes to the
    nearest heap with room. The better direction has fewer extra lifts, then less walking.

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
    routes
        The routes of the house with these spots; built here unless given.
    begin
        What stands and lies where when the crew begins; everything as delivered unless given.
    """
    house = as_begun(house, begin)
    scenario = house.scenario
    there = scenario.spots if spots is None else spots
    at = {name: pack.places[0] for name, pack in scenario.packs.items()} if places is None else places
    ways = routes or build_routes(scenario, [spot_stop(spot) for spot in there.values()])
    directions = directions_from(house, () if begin is None else begin.stood)
    plans: list[Plan] = []
    reasons: list[str] = []
    for direction in directions:
        job = Job(house, there, at, direction, ways, begin)
        steps = _steps(Scene(job, job.beginning, None), choice)
        if isinstance(steps, str):
            reasons.append(f"{direction}: {steps}")
        else:
            plan = build_plan(
                house, steps, spots=there, places=at, routes=ways, begin=begin, direction=direction
            )
            plans.append(plan)
    if not plans:
        return Unplanned(None, "; ".join(reasons))
    return Unplanned(min(plans, key=lambda plan: _worth(replay(house, plan, ways))))


def _worth(done: Replay) -> tuple[int, int]:
    return (done.cost.extra_lifts, done.cost.walking_mm)


def _steps(scene: Scene, choice: Choice) -> tuple[Step, ...] | str:
    """Return the lifts that stand the whole house, or why the crew gets no further."""
    lifts: list[Lift] = []
    wanted = scene.job.wanted
    while waiting := [name for name in wanted if name not in scene.state.standing]:
        allowed = (name for name in choice(scene, waiting) if _may_be_stood(scene, name))
        fetched = (done for name in allowed if (done := _fetched(scene, name)) is not None)
        ahead = ((done, reduce(Scene.after, done, scene)) for done in fetched)
        found = next(((done, after) for done, after in ahead if not any(after.shut_out())), None)
        if found is None:
            stood = len(wanted) - len(waiting)
            return (
                f"stuck with {stood} of {len(wanted)} frames stood: {_stuck(scene, choice(scene, waiting))}"
            )
        lifts.extend(found[0])
        scene = found[1]
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
    return min(kept, key=lambda lift: (_carried_mm(lift), str(lift.target)), default=None)


def _carried_mm(lift: Lift) -> float:
    return math.inf if lift.loaded is None else lift.loaded.mm


def _stuck(scene: Scene, tried: Iterable[str]) -> str:
    allowed = [name for name in tried if _may_be_stood(scene, name)]
    if not allowed:
        return f"no frame may be stood next ({', '.join(ORDER_RULES)})"
    fetched = (done for name in allowed if (done := _fetched(scene, name)) is not None)
    ahead = (reduce(Scene.after, done, scene) for done in fetched)
    shut = next(map(tuple, map(Scene.shut_out, ahead)), ())
    if shut:
        return f"whatever is stood next shuts a frame out from its line, such as {listed(shut)} (way-in)"
    rules = sorted({rule for name in allowed for rule in _hindering(scene, name)})
    return f"no way to get at {listed(allowed)} with the room that is left ({', '.join(rules)})"


def _hindering(scene: Scene, name: str) -> Iterator[str]:
    """Yield the rules that keep a frame from being unpacked and stood."""
    for above in scene.state.above(name):
        lift = _put_aside(scene, above)
        if lift is None:
            lifts = (scene.lift(above, heap) for heap in scene.state.heaps)
            yield from (rule for lift in lifts if lift is not None for rule, _ in broken_rules(lift))
            return
        scene = scene.after(lift)
    last = scene.lift(name, None)
    if last is not None:
        yield from (rule for rule, _ in broken_rules(last))


def _step(lift: Lift) -> Step:
    match lift.target:
        case None:
            return Step("stand", lift.frame.name)
        case Heap("pack", name):
            return Step("set aside", lift.frame.name, to_pack=name)
        case Heap(_, name):
            return Step("set aside", lift.frame.name, to_spot=name)
