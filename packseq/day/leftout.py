"""What cannot be stood now, and what the rules of order hold back because of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import get_args

from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, Layer, State
from packseq.day.present import Present
from packseq.errors import Conflict
from packseq.plan.direction import directions_from
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes
from packseq.scenario.model import Lap

# Where a frame lies makes no difference to the rules of order, nor does the way to it.
_ANYWHERE = Heap("lean", "anywhere")
_NO_ROUTES = Routes({})


@dataclass(frozen=True, slots=True)
class Absent:
    """A frame that cannot be stood now: why, and which others could be if only it could."""

    frame: str
    why: str
    holds_back: tuple[str, ...]


@dataclass(frozen=True)
class LeftOut:
    """What a plan from here on does not stand.

    Parameters
    ----------
    absent
        Frames that cannot be stood themselves, in the order of the scenario.
    held_back
        Frames that no rule of order allows while those are not there: which rule, and how.
    direction
        The direction of the lap in which the most frames can be stood, of those that what stands allows.
    """

    absent: tuple[Absent, ...]
    held_back: Mapping[str, Conflict]
    direction: LapDirection

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Every frame left out: the absent first."""
        return (*(entry.frame for entry in self.absent), *self.held_back)


def left_out(now: Present, prefer: LapDirection | None = None) -> LeftOut:
    """Return what cannot be stood now, and what that holds back.

    The rules of order only ever allow more when more stands. So the frames that they let stand
    without the absent ones are found by standing whatever is allowed until nothing more is; the rest
    is held back. Whether there is room and a way for each is for the search to find.

    Parameters
    ----------
    now
        The site as it is.
    prefer
        The direction to keep to where both let as many frames stand.
    """
    why = _why_absent(now)
    directions = directions_from(now.house, now.state.stood)
    reached = {direction: _standable(now, direction, why) for direction in directions}
    direction = max(directions, key=lambda each: (len(reached[each].stood), each == prefer))
    state = reached[direction]
    absent = []
    for frame, reason in why.items():
        with_it = _standable(now, direction, why.keys() - {frame}).standing
        freed = with_it - state.standing - {frame}
        absent.append(Absent(frame, reason, _in_order(now, freed)))
    job = _job(now, direction)
    held_back = {name: _forbidden(job, state, name) for name in _in_order(now, state.lies) if name not in why}
    return LeftOut(tuple(absent), held_back, direction)


def more_by_lap(now: Present, left: LeftOut) -> Mapping[Lap, int]:
    """Return how many more frames could be stood with another lap, for each lap that lets more stand."""
    own = now.house.scenario.stand
    more: dict[Lap, int] = {}
    for lap in get_args(Lap):
        scenario = replace(now.house.scenario, stand=replace(own, lap=lap))
        other = left_out(replace(now, house=replace(now.house, scenario=scenario)))
        if len(other.frames) < len(left.frames):
            more[lap] = len(left.frames) - len(other.frames)
    return more


def _why_absent(now: Present) -> dict[str, str]:
    scenario, state = now.house.scenario, now.state
    teams = {name: scenario.crew.team(frame.mass_kg) for name, frame in scenario.frames.items()}
    why: dict[str, str] = {}
    for name in scenario.frames:
        if name in state.standing:
            continue
        heavy = [other for other in state.above(name) if teams[other] > now.people]
        if name in now.missing:
            why[name] = "missing"
        elif name in now.damaged:
            why[name] = "damaged"
        elif teams[name] > now.people:
            why[name] = f"needs {teams[name]} people, the crew now has {now.people}"
        elif heavy:
            why[name] = f"lies under {heavy[0]}, which needs {teams[heavy[0]]} people"
    return why


def _job(now: Present, direction: LapDirection) -> Job:
    return Job(now.house, now.spots, now.places, direction, _NO_ROUTES)


def _standable(now: Present, direction: LapDirection, absent: Collection[str]) -> State:
    """Return the state in which everything stands that the rules of order let stand."""
    job = _job(now, direction)
    waiting = [name for name in now.house.scenario.frames if name not in now.state.standing]
    state = State(
        {_ANYWHERE: (Layer(None, tuple(waiting)),)},
        dict.fromkeys(waiting, _ANYWHERE),
        now.state.stood,
        now.state.standing,
    )
    waiting = [name for name in waiting if name not in absent]
    stood_any = True
    while stood_any:
        stood_any = False
        for name in waiting:
            if (
                name not in state.standing
                and next(broken_rules(_stand(job, state, name), ORDER_RULES), None) is None
            ):
                state = state.after(name, None)
                stood_any = True
    return state


def _stand(job: Job, state: State, name: str) -> Lift:
    scenario = job.house.scenario
    frame = scenario.frames[name]
    return Lift(job, state, frame, state.lies[name], None, scenario.crew.team(frame.mass_kg), None)


def _forbidden(job: Job, state: State, name: str) -> Conflict:
    rule, text = next(broken_rules(_stand(job, state, name), ORDER_RULES))
    return Conflict((rule,), text)


def _in_order(now: Present, names: Collection[str]) -> tuple[str, ...]:
    return tuple(name for name in now.house.scenario.frames if name in names)
