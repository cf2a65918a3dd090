"""``packseq job``."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.choices import read_house
from packseq.cli.fixing import FixingPaths, LapOptions, read_lap_files
from packseq.cli.planning import search_checked
from packseq.cli.sheets import SheetOptions
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.files import write_whole
from packseq.page.sheets import booklet_page
from packseq.report.sheets import sheet_tables
from packseq.sitework.booklet.booklet import TITLE, make_booklet
from packseq.sitework.booklet.choices import JobChoices
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.setout import Choices


@dataclass(frozen=True, slots=True)
class BookletJob:
    """What goes into the booklet; without a plan file one is searched for, no longer than `limit_s`."""

    plan_file: Path | None
    limit_s: float
    lines: Choices
    lifts: LiftChoices
    gust_m_per_s: float | None
    braces: BraceChoices
    permanent_kn: tuple[float, ...]
    laps: LapOptions
    paths: FixingPaths


def show_booklet(options: SheetOptions, job: BookletJob) -> None:
    """Write the booklet as a page and show its first sheet; without a page show every sheet.

    Raises
    ------
    InputError
        With every fault of the scenario, of the plan file, or of the files named.
    NoPlanError
        When the plan fails its check, or there is none that keeps the rules.
    LimitError
        When no plan was found in time.
    OutputError
        When the page cannot be written.
    """
    if options.out is not None:
        refuse_early(options.out, options.folder, force=options.force)
    house = read_house(options.folder)
    files, laps = read_lap_files(house, job.paths, job.laps)
    if job.plan_file is not None:
        done = read_checked_plan(options.folder, job.plan_file)
    else:
        done, _ = search_checked(house, limit_s=job.limit_s)
    choices = JobChoices(
        files=files,
        rules=job.laps.rules,
        laps=laps,
        lines=job.lines,
        lifts=job.lifts,
        gust_m_per_s=job.gust_m_per_s,
        braces=job.braces,
        permanent_kn=job.permanent_kn,
    )
    booklet = make_booklet(done, choices)
    shown = booklet.sheets
    if options.out is not None:
        page = booklet_page(TITLE, done.job.house.scenario.name, booklet.sheets)
        write_whole(options.out, page, force=options.force)
        write_aside([f"The booklet is in {options.out}"])
        shown = booklet.sheets[:1]
    if options.as_json:
        write_json({"scenario": done.job.house.scenario.name, **booklet.document})
    else:
        write_report(part for sheet in shown for part in sheet_tables(sheet))
