"""A plan file that keeps the rules, for whatever is built on it."""

from __future__ import annotations

from pathlib import Path

from packseq.check import Replay, replay
from packseq.check.violation import PLAN_FILE
from packseq.cli.choices import every_choice, read_house
from packseq.cli.gathering import Gathering
from packseq.errors import Conflict, InputError, NoPlanError
from packseq.house.model import House
from packseq.plan.file import read_plan
from packseq.plan.model import Plan
from packseq.routes.engine import Routes

_MOST_TOLD = 12
"""A plan for another house breaks hundreds of rules: what comes first says so."""


def read_with_plan(folder: Path, plan_file: Path) -> tuple[House, Plan]:
    """Read a scenario and a plan.

    Raises
    ------
    InputError
        With the faults of both at once.
    """
    gathering = Gathering()
    house = gathering.read(lambda: read_house(folder))
    plan = gathering.read(lambda: read_plan(plan_file))
    if house is None or plan is None:
        raise InputError(gathering.faults)
    return house, plan


def read_checked_plan(folder: Path, plan_file: Path) -> Replay:
    """Read a plan and replay it, with the options of ``packseq plan`` that it was made with.

    Raises
    ------
    InputError
        With every fault of the scenario and of the plan file.
    NoPlanError
        When the plan fails its check, with whatever options: nothing is built on such a plan.
    """
    house, plan = read_with_plan(folder, plan_file)
    return checked(house, plan, plan_file.name)[1]


def checked(house: House, plan: Plan, file: str, routes: Routes | None = None) -> tuple[House, Replay]:
    """Return a house with the choices that a plan was made with, and the plan's replay.

    Parameters
    ----------
    house, plan
        What was read.
    file
        What the plan's file is called.
    routes
        The routes of the house with the plan's spots, as `replay` takes them.

    Raises
    ------
    NoPlanError
        When the plan fails its check, with whatever choices.
    """
    done = replay(house, plan, routes)
    if done.kept:
        return house, done
    for choices in every_choice():
        chosen = choices.applied(house)
        other = replay(chosen, plan, done.job.routes)
        if other.kept:
            return chosen, other
    told = [Conflict((each.rule,), f"{file}: {each.text}") for each in done.violations[:_MOST_TOLD]]
    more = len(done.violations) - len(told)
    if more:
        told.append(Conflict((PLAN_FILE,), f"{file}: and {more} more; packseq verify lists every one"))
    raise NoPlanError(told)
