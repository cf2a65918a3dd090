"""``packseq replan``."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from packseq.cli.checkedplan import checked
from packseq.cli.choices import Choices
from packseq.cli.dayfiles import DayFiles, read_day
from packseq.cli.planning import search_watched
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.day.goingon import go_on
from packseq.day.leftout import more_by_lap
from packseq.day.present import present_state
from packseq.day.site import Site, routes_of, site_of
from packseq.errors import OutputError
from packseq.files import write_whole
from packseq.plan.file import plan_json
from packseq.report.alternatives import unplanned_alternatives
from packseq.report.layout import paragraph
from packseq.report.replanned import replanned_document, replanned_house
from packseq.standup.staging import proposed_spots


@dataclass(frozen=True, slots=True)
class ReplanJob:
    """From which journal and plan to go on, how, and where the new plan goes (None: it is only shown)."""

    folder: Path
    journal: Path
    plan_file: Path | None
    choices: Choices
    limit_s: float
    seed: int
    out: Path | None
    force: bool


def replan_scenario(job: ReplanJob, *, as_json: bool) -> None:
    """Find a plan from the site as it is, check it, write it and show it.

    Raises
    ------
    InputError
        When something is wrong with scenario, plan or journal.
    OutputError
        When the plan file cannot be written.
    NoPlanError
        When nothing that is there can be stood, or the old plan fails its own check.
    LimitError
        When no plan was found.
    """
    day = read_day(job.folder, job.journal, job.plan_file)
    if job.out is not None:
        refuse_early(job.out, job.folder, force=job.force)
        if job.out.resolve() == job.journal.resolve():
            raise OutputError(f"{job.out}: is the journal itself")
    site = _site(day, job)
    if len(site.now.state.stood) == len(site.house.scenario.frames):
        _say_done(as_json=as_json)
        return
    made, stopped = search_watched(
        lambda listener, stop: go_on(site, limit_s=job.limit_s, seed=job.seed, listener=listener, stop=stop),
        job.limit_s,
        lambda made: made.done.plan,
    )
    more = more_by_lap(site.now, site.left)
    alternatives = unplanned_alternatives(made.done)
    try:
        if job.out is not None:
            write_whole(job.out, plan_json(made.done.plan), force=job.force)
            write_aside([f"The plan is in {job.out}"])
    finally:
        if as_json:
            write_json(replanned_document(made, alternatives, more, stopped=stopped))
        else:
            write_report(replanned_house(made, alternatives, more, stopped=stopped))


def _say_done(*, as_json: bool) -> None:
    text = "Every frame stands: there is nothing left to plan."
    if as_json:
        write_json({"plan": None, "said": text})
    else:
        write_report((paragraph(text),))


def _site(day: DayFiles, job: ReplanJob) -> Site:
    house, names = day.house, day.names
    if not names.spots and not any(pack.holds for pack in house.scenario.packs.values()):
        places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
        names = replace(names, spots=proposed_spots(house, places))
    now = present_state(house, names, day.plan, day.journal.lines)
    routes = routes_of(now, day.plan)
    if day.plan is not None and job.plan_file is not None:
        house, _ = checked(house, day.plan, job.plan_file.name, routes)
    now = replace(now, house=job.choices.applied(house))
    return site_of(now, day.plan, day.journal.lines, routes)
