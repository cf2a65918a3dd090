"""``packseq fixings`` and ``packseq laps``, which go by one schedule."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.choices import read_house
from packseq.cli.sheets import SheetOptions, show_sheet
from packseq.errors import Fault, InputError
from packseq.house.model import House
from packseq.sitework.anchornames import AnchorName
from packseq.sitework.fixings.files import read_bracing, read_delivered, read_schedule
from packseq.sitework.fixings.fixing import (
    FixingFiles,
    PlateRules,
    fixings_document,
    fixings_sheet,
    plate_choices,
    study_fixings,
)
from packseq.sitework.laps.anchors import RULES
from packseq.sitework.laps.lapdata import laps_document
from packseq.sitework.laps.lapsheets import laps_sheet
from packseq.sitework.laps.study import LapChoices, study_laps


@dataclass(frozen=True, slots=True)
class FixingPaths:
    """The files that were named on the command line; None where not."""

    schedule: Path | None = None
    delivered: Path | None = None
    bracing: Path | None = None


def rules_named(external: AnchorName, internal: AnchorName | None) -> PlateRules:
    """Return the rules for plates of these names; internal plates go by the external rule unless told."""
    return PlateRules(RULES[external], RULES[internal or external])


def read_fixing_files(house: House, paths: FixingPaths) -> FixingFiles:
    """Read the files that were named.

    Raises
    ------
    InputError
        With every fault of all of them.
    """
    frames = tuple(house.scenario.frames)
    faults: list[Fault] = []
    schedule = delivered = bracing = None
    if paths.schedule is not None:
        try:
            schedule = read_schedule(paths.schedule, frames)
        except InputError as error:
            faults += error.faults
    if paths.delivered is not None:
        try:
            delivered = read_delivered(paths.delivered)
        except InputError as error:
            faults += error.faults
    if paths.bracing is not None:
        try:
            bracing = read_bracing(paths.bracing, frames)
        except InputError as error:
            faults += error.faults
    if faults:
        raise InputError(faults)
    return FixingFiles(schedule, delivered, bracing)


def show_fixings(options: SheetOptions, paths: FixingPaths, rules: PlateRules) -> None:
    """Show the sheet about fixings.

    Raises
    ------
    InputError
        With every fault of the scenario, or of the files named.
    OutputError
        When the page cannot be written.
    """
    house = read_house(options.folder)
    fixings = study_fixings(house, read_fixing_files(house, paths), rules)
    show_sheet(fixings_sheet(fixings), fixings_document(fixings), options)


def show_laps(
    options: SheetOptions, plan_file: Path, paths: FixingPaths, rules: PlateRules, station_mm: float
) -> None:
    """Show the lap sheets of a plan.

    Raises
    ------
    InputError
        With every fault of the scenario, of the plan file, or of the files named.
    NoPlanError
        When the plan fails its check.
    OutputError
        When the page cannot be written.
    """
    done = read_checked_plan(options.folder, plan_file)
    house = done.job.house
    files = read_fixing_files(house, paths)
    laps = study_laps(done, LapChoices(plate_choices(house, files, rules), station_mm))
    show_sheet(laps_sheet(laps), laps_document(laps), options)
