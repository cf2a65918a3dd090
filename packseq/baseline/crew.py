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
    thinks_again: bool = False,
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
    thinks_again
        Whether a crew that is stuck goes back: a frame that would be shut out is stood at the last moment
        at which it could have been, and all that came after is chosen anew, those shut out before all
        others. The next time it goes back farther, until there is no moment left.
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
        steps = _steps(Scene(job, job.beginning, None), choice, thinks_again=thinks_again)
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


@dataclass(frozen=True)
class _Stood:
    """One more frame stood: the scene before, the lifts that stood it, and the scene after."""

    before: Scene
    lifts: tuple[Lift, ...]
    after: Scene


def _steps(scene: Scene, choice: Choice, *, thinks_again: bool) -> tuple[Step, ...] | str:
    """Return the lifts that stand the whole house, or why the crew gets no further."""
    stood: list[_Stood] = []
    urgent: set[str] = set()
    wanted, thoughts, latest = scene.job.wanted, 0, len(scene.job.wanted)
    while waiting := [name for name in wanted if name not in scene.state.standing]:
        chosen = sorted(choice(scene, waiting), key=lambda name: name not in urgent)
        following = next(_fine(scene, (name for name in chosen if _may_be_stood(scene, name))), None)
        if following is None and thinks_again:
            urgent.update(_would_be_shut_out(scene, chosen))
            following = _thought_again(stood, sorted(urgent), latest)
            # Farther back each time, lest the same is tried again and again.
            latest = len(stood) - (1 << thoughts)
            thoughts += 1
        if following is None:
            reason = _stuck(scene, [name for name in chosen if _may_be_stood(scene, name)])
            return f"stuck with {len(wanted) - len(waiting)} of {len(wanted)} frames stood: {reason}"
        stood.append(following)
        scene = following.after
    return tuple(_step(lift) for each in stood for lift in each.lifts)


def _fine(scene: Scene, names: Iterable[str]) -> Iterator[_Stood]:
    """Yield what stands each of some frames that may be stood, where no other is shut out by that."""
    for each in _ahead(scene, names):
        if not any(each.after.shut_out()):
            yield each


def _ahead(scene: Scene, names: Iterable[str]) -> Iterator[_Stood]:
    fetched = (done for name in names if (done := _fetched(scene, name)) is not None)
    return (_Stood(scene, done, reduce(Scene.after, done, scene)) for done in fetched)


def _would_be_shut_out(scene: Scene, chosen: Iterable[str]) -> list[str]:
    allowed = (name for name in chosen if _may_be_stood(scene, name))
    return list(dict.fromkeys(name for each in _ahead(scene, allowed) for name in each.after.shut_out()))


def _thought_again(stood: list[_Stood], names: Sequence[str], latest: int) -> _Stood | None:
    """Return what stands one of some frames at the last moment it could, with all stood since struck out.

    Only moments with at most `latest` frames stood come into question; None where there is none.
    """
    for moment in reversed(range(min(latest + 1, len(stood)))):
        scene = stood[moment].before
        following = next(_fine(scene, (name for name in names if _may_be_stood(scene, name))), None)
        if following is not None:
            del stood[moment:]
            return following
    return None


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


def _stuck(scene: Scene, allowed: Sequence[str]) -> str:
    if not allowed:
        return f"no frame may be stood next ({', '.join(ORDER_RULES)})"
    shut = next((tuple(each.after.shut_out()) for each in _ahead(scene, allowed)), ())
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
