"""``packseq status``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.dayfiles import DayFiles, read_day
from packseq.cli.streams import write_json, write_report
from packseq.day.follow import follow
from packseq.day.leftout import left_out, more_by_lap
from packseq.day.nextmove import next_move
from packseq.day.present import Present, present_state
from packseq.day.progress import extra_lifts
from packseq.day.walked import walked_so_far_mm
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
    left = left_out(now, None if day.plan is None else day.plan.direction)
    site = SiteNow(now, walked_so_far_mm(now), left, more_by_lap(now, left), _by_plan(day, now))
    if as_json:
        write_json(site_document(site))
    else:
        write_report(site_now(site))


def _by_plan(day: DayFiles, now: Present) -> ByPlan | None:
    if day.plan is None:
        return None
    followed = follow(day.plan, day.journal.lines)
    lifts = extra_lifts(now, day.plan, day.journal.lines)
    return ByPlan(followed, next_move(now, day.plan, followed), lifts)
