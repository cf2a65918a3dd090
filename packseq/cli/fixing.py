"""``packseq fixings`` and ``packseq laps``, which go by one schedule."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.choices import read_house
from packseq.cli.gathering import Gathering, Read
from packseq.cli.sheets import SheetOptions, show_sheet
from packseq.errors import InputError
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
from packseq.sitework.readings.ownset import tolerance_set


@dataclass(frozen=True, slots=True)
class FixingPaths:
    """The files that were named on the command line; None where not."""

    schedule: Path | None = None
    delivered: Path | None = None
    bracing: Path | None = None


@dataclass(frozen=True, slots=True)
class LapOptions:
    """How the laps go: the rules for plates, the limits by name or file, how far apart strings are read."""

    rules: PlateRules
    tolerances: str
    station_mm: float


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
    gathering = Gathering()

    def named(path: Path | None, reader: Callable[[Path], Read]) -> Read | None:
        return None if path is None else gathering.read(lambda: reader(path))

    schedule = named(paths.schedule, lambda path: read_schedule(path, frames))
    delivered = named(paths.delivered, read_delivered)
    bracing = named(paths.bracing, lambda path: read_bracing(path, frames))
    if gathering.faults:
        raise InputError(gathering.faults)
    return FixingFiles(schedule, delivered, bracing)


def read_lap_files(house: House, paths: FixingPaths, laps: LapOptions) -> tuple[FixingFiles, LapChoices]:
    """Read the files about fixings and the limits, and return what the laps go by.

    Raises
    ------
    InputError
        With every fault of all of them.
    """
    gathering = Gathering()
    files = gathering.read(lambda: read_fixing_files(house, paths))
    limits = gathering.read(lambda: tolerance_set(laps.tolerances))
    if files is None or limits is None:
        raise InputError(gathering.faults)
    return files, LapChoices(plate_choices(house, files, laps.rules), laps.station_mm, limits)


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


def show_laps(options: SheetOptions, plan_file: Path, paths: FixingPaths, choices: LapOptions) -> None:
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
    _, chosen = read_lap_files(done.job.house, paths, choices)
    laps = study_laps(done, chosen)
    show_sheet(laps_sheet(laps), laps_document(laps), options)
