"""``packseq status``."""

from __future__ import annotations

from pathlib import Path

from packseq.check.timing import estimate
from packseq.cli.dayfiles import DayFiles, read_day
from packseq.cli.streams import write_json, write_report
from packseq.day.leftout import more_by_lap
from packseq.day.nextmove import next_move
from packseq.day.present import present_state
from packseq.day.progress import extra_lifts
from packseq.day.replanned import Rest
from packseq.day.rest import rest_of
from packseq.day.site import Site, site_of
from packseq.day.walked import walked_so_far_mm
from packseq.plan.model import Plan
from packseq.report.sitenow import ByPlan, SiteNow, site_document, site_now


def show_status(folder: Path, journal: Path, plan_file: Path | None, *, as_json: bool) -> None:
    """Show the site as the journal has it.

    Raises
    ------
    InputError
        When something is wrong with scenario, plan or journal.
    """
    day = read_day(folder, journal, plan_file)
    now = present_state(day.house, day.names, day.plan, day.journal.lines)
    site = site_of(now, day.plan, day.journal.lines)
    rest = rest_of(site)
    shown = SiteNow(
        now,
        walked_so_far_mm(now, site.routes),
        site.left,
        more_by_lap(now, site.left),
        None if day.plan is None or rest is None else _by_plan(day.plan, day, site, rest),
    )
    if as_json:
        write_json(site_document(shown))
    else:
        write_report(site_now(shown))


def _by_plan(plan: Plan, day: DayFiles, site: Site, rest: Rest) -> ByPlan:
    return ByPlan(
        rest.followed,
        next_move(site.now, plan, rest.followed),
        extra_lifts(site.now, plan, day.journal.lines),
        estimate(rest.done).total_s if rest.done.kept else None,
        day.journal.lines[-1].event.at if day.journal.lines else None,
    )
