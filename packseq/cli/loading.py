"""``packseq load``."""

from __future__ import annotations

import os
import tempfile
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from packseq.cli.bestload import best_load_planned
from packseq.cli.progress import progress_line
from packseq.cli.solving import Watch, out_of_time, run_search
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.errors import Fault, InputError, LimitError, NoPlanError, OutputError
from packseq.files import write_folder
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.page.sheets import sheet_page
from packseq.report.sheets import sheet_tables
from packseq.report.words import metres
from packseq.scenario.files import PACKS
from packseq.scenario.read import read_scenario
from packseq.standup.progress import Listener, Progress

if TYPE_CHECKING:
    from packseq.loading.best import BestLoad
    from packseq.loading.changes import Changes

_STAGES = {"walking_mm": "walking"}
SHEET_FILE = "loading-sheet.html"


@dataclass(frozen=True, slots=True)
class LoadOrder:
    """What to load, how long to search, and where the new folder goes (None: it is only shown)."""

    folder: Path
    out: Path | None
    limit_s: float
    seed: int
    changes: bool
    force: bool


def load_scenario(order: LoadOrder, *, as_json: bool) -> None:
    """Find the best load, check it, write the folder that the site plans from, and show the loading sheet.

    Raises
    ------
    InputError
        With every fault of the scenario.
    OutputError
        When the folder cannot be written: before the search where that can be told.
    NoPlanError
        When no load keeps the limits.
    LimitError
        When the limit was reached, or the search stopped, before any load was found.
    """
    from packseq.loading.document import load_document  # noqa: PLC0415 - the solver is slow to load
    from packseq.loading.easing import LimitCost, limit_costs  # noqa: PLC0415
    from packseq.loading.folder import loaded_folder  # noqa: PLC0415
    from packseq.loading.sheet import load_sheet  # noqa: PLC0415

    house = _house(order)
    if order.out is not None:
        _refuse_early(order.out, order.folder, force=order.force)
    with progress_line(order.limit_s, _line) as show:
        found, stopped = run_search(
            lambda listener, stop: best_load_planned(house, order.limit_s, order.seed, listener, stop),
            show,
        )
        best = found.best
        costs: tuple[LimitCost, ...] = ()
        if not stopped:
            best, costs = limit_costs(best, limit_s=order.limit_s, seed=order.seed)
        changes = None
        if order.changes and not stopped:
            changes, _ = run_search(lambda listener, stop: _changes(house, best, order, listener, stop), show)
    if order.changes and not stopped and changes is None:
        write_aside(["No plan was found for the packs as delivered, so no changes to them are told."])
    if found.out_of_time:
        write_aside([out_of_time("load")])
    sheet = load_sheet(best, costs, changes, stopped=stopped)
    try:
        if order.out is not None:
            files = loaded_folder(order.folder, best.load.packs)
            write_folder(order.out, {**files, SHEET_FILE: sheet_page(sheet)}, force=order.force)
            write_aside([f"The scenario with the new packs is in {order.out}, its sheet in {SHEET_FILE}"])
    finally:
        # Shown even where the folder could not be written after all: the search may have been long.
        if as_json:
            head = {"sheet": sheet.title, "scenario": sheet.house, "cautions": sheet.cautions}
            write_json({**head, "stopped": stopped, **load_document(best, costs, changes)})
        else:
            write_report(sheet_tables(sheet))


def _changes(
    house: House, best: BestLoad, order: LoadOrder, listener: Listener, stop: threading.Event
) -> Changes | None:
    """Return the fewest changes to the packs as delivered; None where no plan is found for these."""
    from packseq.loading.changes import fewest_changes  # noqa: PLC0415 - the solver is slow to load
    from packseq.standup.search import plan_standup  # noqa: PLC0415

    half_s = order.limit_s / 2
    try:
        plan = plan_standup(house, limit_s=half_s, seed=order.seed, listener=listener, stop=stop)
    except (NoPlanError, LimitError):
        return None
    return fewest_changes(house, plan, best, limit_s=half_s, seed=order.seed, stop=stop)


def _line(watch: Watch, limit_s: float) -> str:
    """Return the line to show now; what limits cost, and changes, are searched for as long again."""
    if watch.latest is None:
        doing = "looking for a load"
    else:
        best = "none yet" if watch.latest.value is None else _amount(watch.latest)
        doing = f"{_STAGES.get(watch.latest.stage, watch.latest.stage)}: best so far {best}"
    if watch.stop.is_set():
        return f"Stopping. {doing}"
    return f"{watch.elapsed_s:.0f} s of {limit_s:g}: {doing}. Ctrl-C stops here and keeps the best load."


def _amount(progress: Progress) -> str:
    value = progress.value or 0
    return f"{metres(value)} m" if progress.stage.endswith("_mm") else str(value)


def _house(order: LoadOrder) -> House:
    """Return the house; its packs may be missing unless changes to them are asked for."""
    scenario = read_scenario(order.folder, packs_needed=False)
    if order.changes and not scenario.packs:
        raise InputError([Fault(PACKS, "no packs as delivered are given, so there is nothing to change")])
    return derive_house(scenario)


def _refuse_early(out: Path, folder: Path, *, force: bool) -> None:
    """Refuse a folder that could not be written when the work is done."""
    if out.resolve() == folder.resolve():
        raise OutputError(f"{out}: is the scenario itself; write the loaded one beside it")
    if not out.parent.is_dir():
        raise OutputError(f"{out}: there is no folder {out.parent}")
    if os.path.lexists(out) and not out.is_dir():
        raise OutputError(f"{out}: is a file, not a folder")
    if out.is_dir() and any(out.iterdir()) and not force:
        raise OutputError(f"{out}: exists and is kept; say --force to replace its files")
    try:
        with tempfile.TemporaryFile(dir=out.parent):
            pass
    except OSError as error:
        raise OutputError(f"{out}: cannot be written ({error.strerror})") from error
