"""``packseq verify``."""

from __future__ import annotations

from pathlib import Path

import typer

from packseq.check import Replay, replay
from packseq.cli.checkedplan import read_with_plan
from packseq.cli.choices import Choices, every_choice
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.errors import NoPlanError
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.report.plandata import verdict_document
from packseq.report.verdict import verdict
from packseq.report.words import counted


def verify_plan(folder: Path, plan_file: Path, choices: Choices, *, as_json: bool) -> None:
    """Replay a plan and show the verdict; the exit code is 3 when the plan fails.

    Raises
    ------
    InputError
        With every fault of the scenario and of the plan file.
    """
    house, plan = read_with_plan(folder, plan_file)
    done = replay(choices.applied(house), plan)
    hint = None if done.kept else made_otherwise(house, plan, done)
    if as_json:
        write_json(verdict_document(done, hint))
    else:
        write_report(verdict(plan_file.name, done, hint))
    if not done.kept:
        wrong = counted(len(done.violations), "thing is", "things are")
        write_aside([f"{plan_file.name}: fails its check: {wrong} wrong"])
        raise typer.Exit(NoPlanError.exit_code)


def made_otherwise(house: House, plan: Plan, done: Replay) -> str | None:
    """Tell with which options a plan would break fewer rules; None when with none.

    Parameters
    ----------
    house
        The house as the scenario has it.
    plan
        The plan, which may have been made with other options.
    done
        Its replay with the options given.
    """
    wrong = len(done.violations)
    best: Choices | None = None
    for choices in every_choice():
        count = len(replay(choices.applied(house), plan, done.job.routes).violations)
        if count < wrong:
            wrong, best = count, choices
    if best is None:
        return None
    with_what = f"with {best}" if str(best) else "without --lap and --direction"
    outcome = "nothing is wrong" if wrong == 0 else f"{counted(wrong, 'thing is', 'things are')} wrong"
    return f"The plan may have been made with other options: {with_what}, {outcome}."
