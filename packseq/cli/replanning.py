"""``packseq replan``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.check import replay
from packseq.cli.checkedplan import checked
from packseq.cli.choices import Choices
from packseq.cli.dayfiles import DayFiles, read_day
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.day.beginning import begin_from
from packseq.day.follow import follow
from packseq.day.goingon import put_right, rest_of
from packseq.day.journal import Noted
from packseq.day.leftout import LeftOut, left_out, more_by_lap
from packseq.day.present import Present, present_state
from packseq.day.replanned import Replanned, Rest, best_of, with_stages
from packseq.errors import Conflict, LimitError, NoPlanError, OutputError
from packseq.files import write_whole
from packseq.house.model import House
from packseq.plan.begin import Begin, as_begun
from packseq.plan.file import plan_json
from packseq.plan.model import Plan
from packseq.report.alternatives import unplanned_alternatives
from packseq.report.layout import paragraph
from packseq.report.replanned import replanned_document, replanned_house
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop
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
    made = _made(site)
    more = more_by_lap(site.now, site.left)
    alternatives = unplanned_alternatives(made.done)
    try:
        if job.out is not None:
            write_whole(job.out, plan_json(made.done.plan), force=job.force)
            write_aside([f"The plan is in {job.out}"])
    finally:
        if as_json:
            write_json(replanned_document(made, alternatives, more, stopped=False))
        else:
            write_report(replanned_house(made, alternatives, more, stopped=False))


def _say_done(*, as_json: bool) -> None:
    text = "Every frame stands: there is nothing left to plan."
    if as_json:
        write_json({"plan": None, "said": text})
    else:
        write_report((paragraph(text),))


@dataclass(frozen=True)
class _Site:
    """The site as it is, and what it needs for a plan from here.

    `house` is as delivered, with the choices of the old plan and of the command line.
    """

    house: House
    old: Plan | None
    lines: tuple[Noted, ...]
    now: Present
    left: LeftOut
    begin: Begin


def _site(day: DayFiles, job: ReplanJob) -> _Site:
    house, names = day.house, day.names
    if day.plan is not None and job.plan_file is not None:
        house, _ = checked(house, day.plan, job.plan_file.name)
    house = job.choices.applied(house)
    if not names.spots:
        places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
        names = replace(names, spots=proposed_spots(house.scenario, places))
    lines = day.journal.lines
    now = present_state(house, names, day.plan, lines)
    left = left_out(now, None if day.plan is None else day.plan.direction)
    return _Site(house, day.plan, lines, now, left, begin_from(now, left.frames, lines))


def _made(site: _Site) -> Replanned:
    """Return the best plan from here."""
    waiting = len(site.house.scenario.frames) - len(site.now.state.stood)
    if waiting == len(site.left.frames):
        raise NoPlanError(_nothing_to_stand(site.left))
    begun = as_begun(site.house, site.begin)
    routes = build_routes(begun.scenario, [spot_stop(spot) for spot in site.now.spots.values()])
    rest = _rest(site, routes)
    plans = [] if rest is None else [rest.done.plan]
    crews = _crews(site, routes)
    plans.extend(crew.plan for crew in crews if crew.plan is not None)
    best = best_of(site.house, plans, routes)
    if best is None:
        reasons = dict.fromkeys(crew.reason for crew in crews if crew.reason is not None)
        raise LimitError("no plan was found from here", *reasons)
    done = replay(site.house, with_stages(best.plan, best), routes)
    return Replanned(site.now, site.left, done, rest)


def _rest(site: _Site, routes: Routes) -> Rest | None:
    if site.old is None:
        return None
    followed = follow(site.old, site.lines)
    plan = rest_of(site.now, site.begin, followed, site.left.direction, routes)
    return Rest(followed, replay(site.house, plan, routes))


def _crews(site: _Site, routes: Routes) -> list[Unplanned]:
    """Return what crews come to that look no further than the next frame: with the old order, and without."""
    now = site.now
    crews = []
    if site.old is not None:
        order = [move.frame for move in site.old.moves if move.do == "stand"]
        crews.append(put_right(now, site.begin, order, routes))
    crews.extend(
        crew(site.house, spots=now.spots, places=now.places, routes=routes, begin=site.begin)
        for crew in (by_nearest, by_frame_list)
    )
    return crews


def _nothing_to_stand(left: LeftOut) -> Iterator[Conflict]:
    for absent in left.absent:
        yield Conflict(("not there",), f"{absent.frame}: {absent.why}")
    rules: dict[str, str] = {}
    for conflict in left.held_back.values():
        rules.setdefault(conflict.rules[0], conflict.text)
    for rule, text in rules.items():
        yield Conflict((rule,), f"nothing else can be stood until then, such as: {text}")
