"""``packseq plan``."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from packseq.check import Replay, replay
from packseq.cli.choices import Choices, read_house
from packseq.cli.progress import progress_line
from packseq.cli.solving import Found, out_of_time, run_search
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.errors import Conflict, NoPlanError
from packseq.files import write_whole
from packseq.house.model import House
from packseq.plan.file import plan_json
from packseq.plan.model import Plan
from packseq.report.alternatives import unplanned_alternatives
from packseq.report.plandata import planned_document
from packseq.report.planned import planned_house
from packseq.standup.progress import Listener


@dataclass(frozen=True, slots=True)
class PlanJob:
    """What to plan, how, and where the plan file goes (None: it is only shown)."""

    folder: Path
    choices: Choices
    limit_s: float
    seed: int
    out: Path | None
    force: bool


def plan_scenario(job: PlanJob, *, as_json: bool) -> None:
    """Find a plan, check it, write it and show it.

    Raises
    ------
    InputError
        With every fault of the scenario.
    OutputError
        When the plan file cannot be written: before the search where that can be told.
    NoPlanError
        When no plan keeps the rules.
    LimitError
        When the limit was reached, or the search stopped, before any plan was found.
    """
    house = read_house(job.folder, job.choices)
    if job.out is not None:
        refuse_early(job.out, job.folder, force=job.force)
    done, stopped = search_checked(house, limit_s=job.limit_s, seed=job.seed)
    alternatives = unplanned_alternatives(done)
    try:
        if job.out is not None:
            write_whole(job.out, plan_json(done.plan), force=job.force)
            write_aside([f"The plan is in {job.out}"])
    finally:
        # Shown even where the file could not be written after all: the search may have been long.
        if as_json:
            write_json(planned_document(done, alternatives, stopped=stopped))
        else:
            write_report(planned_house(done, alternatives, stopped=stopped))


def search_checked(house: House, *, limit_s: float, seed: int = 0) -> tuple[Replay, bool]:
    """Return the best plan as replayed, and whether the search was stopped before its proof.

    Raises
    ------
    NoPlanError
        When no plan keeps the rules.
    LimitError
        When the limit was reached, or the search stopped, before any plan was found.
    """
    from packseq.standup.search import plan_standup  # noqa: PLC0415 - the solver is slow to load

    done, stopped = search_watched(
        lambda listener, stop: replay(
            house, plan_standup(house, limit_s=limit_s, seed=seed, listener=listener, stop=stop)
        ),
        limit_s,
        lambda done: done.plan,
    )
    if not done.kept:
        raise NoPlanError(Conflict((each.rule,), each.text) for each in done.violations)
    return done, stopped


def search_watched(
    search: Callable[[Listener, threading.Event], Found], limit_s: float, plan_of: Callable[[Found], Plan]
) -> tuple[Found, bool]:
    """Run a search for a plan with its progress shown; tell also whether it was stopped before its proof."""
    began_s = time.monotonic()
    with progress_line(limit_s) as show:
        found, stopped = run_search(search, show)
    proven = plan_of(found).status == "optimal"
    if not proven and not stopped and time.monotonic() - began_s >= limit_s:
        write_aside([out_of_time("plan")])
    return found, stopped and not proven
