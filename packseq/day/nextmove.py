"""What comes next by the plan, and whether it can still be done as planned."""

from __future__ import annotations

from dataclasses import dataclass, replace

from packseq.check.job import Job, Lift
from packseq.check.rules import RULES, broken_rules
from packseq.day.follow import Followed
from packseq.day.present import Present
from packseq.plan.model import Move, Plan
from packseq.routes.engine import Routes

# Whether there is a way takes the routes of the whole house: too long to wait for after each note.
_RULES = {name: rule for name, rule in RULES.items() if name != "way-in"}


@dataclass(frozen=True, slots=True)
class NextMove:
    """The next move of a plan, and why it cannot be done as planned (None: nothing is known against it)."""

    move: Move
    hindrance: str | None


def next_move(now: Present, plan: Plan, followed: Followed) -> NextMove | None:
    """Return the first move of a plan that is still to be carried out, None where there is none.

    The way there is not looked at: for that, make the plan again.
    """
    if not followed.open:
        return None
    move = followed.open[0]
    return NextMove(move, _hindrance(now, plan, move))


def _hindrance(now: Present, plan: Plan, move: Move) -> str | None:
    name = move.frame
    source = now.state.lies.get(name)
    if name in now.missing:
        return f"{name} is missing"
    if name in now.damaged and move.do == "stand":
        return f"{name} is damaged"
    if source is None:
        return f"nobody noted where {name} lies"
    if source.name != (move.origin.pack or move.origin.spot):
        return f"{name} lies in {source}, the plan takes it from {move.origin}"
    scenario = now.house.scenario
    crew = replace(scenario.crew, people=now.people)
    house = replace(now.house, scenario=replace(scenario, crew=crew))
    job = Job(house, now.spots, now.places, plan.direction or "anticlockwise", Routes({}))
    target = None if move.to is None else job.heap(pack=move.to.pack, spot=move.to.spot)
    if move.do == "set aside" and target is None:
        return f"there is no {move.to} any more"
    people = crew.team(scenario.frames[name].mass_kg)
    lift = Lift(job, now.state, scenario.frames[name], source, target, people, None)
    return next((f"{rule}: {text}" for rule, text in broken_rules(lift, _RULES)), None)
