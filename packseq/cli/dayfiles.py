"""A scenario, its journal and the plan worked by, read together for the commands of the day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from packseq.cli.checkedplan import read_with_plan
from packseq.cli.choices import read_house
from packseq.cli.streams import write_aside
from packseq.day.journal import Journal, read_journal
from packseq.day.names import Names, names_of
from packseq.errors import Fault, InputError
from packseq.house.model import House
from packseq.plan.model import Plan


@dataclass(frozen=True)
class DayFiles:
    """What was read: the house, the plan if one was given, its names, the journal."""

    house: House
    plan: Plan | None
    names: Names
    journal: Journal


def read_day(folder: Path, journal: Path, plan_file: Path | None) -> DayFiles:
    """Read a scenario, a plan if one is named, and a journal; what is wrong in its lines is told aside.

    Raises
    ------
    InputError
        With the faults of scenario and plan; when the plan was made from other files; when the
        journal cannot be read, or is that of another house.
    """
    house, plan = (read_house(folder), None) if plan_file is None else read_with_plan(folder, plan_file)
    if plan is not None and plan_file is not None and plan.scenario_sha256 != house.scenario.sha256:
        raise InputError([Fault(plan_file.name, "was made from other files than this scenario has now")])
    names = names_of(house, plan)
    read = read_journal(journal, names)
    write_aside(told_of(read, journal.name))
    return DayFiles(house, plan, names, read)


def told_of(journal: Journal, file: str) -> Iterator[str]:
    """Yield what is to be told of a journal as read: faults, a torn last line, other files."""
    yield from map(str, journal.faults)
    if journal.torn:
        yield f"{file}: the last line is torn and is left out: note again what happened last"
    yield from (f"{file}: {remark}" for remark in journal.remarks)
