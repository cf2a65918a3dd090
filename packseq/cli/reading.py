"""``packseq readings``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.choices import read_house
from packseq.cli.gathering import Gathering
from packseq.cli.sheets import SheetOptions, show_sheet, write_form
from packseq.errors import InputError
from packseq.sitework.readings.document import readings_document, to_read_document
from packseq.sitework.readings.file import read_readings
from packseq.sitework.readings.form import readings_form
from packseq.sitework.readings.judge import judged
from packseq.sitework.readings.model import Readings
from packseq.sitework.readings.ownset import tolerance_set
from packseq.sitework.readings.sheet import readings_sheet, to_read_sheet
from packseq.sitework.readings.squareness import squareness
from packseq.sitework.readings.tasks import Job, job_of
from packseq.sitework.readings.tolerances import ToleranceSet
from packseq.sitework.setout import Choices


def show_readings(
    measured: Path | None, tolerances: str, lines: Choices, options: SheetOptions, *, form: Path | None
) -> None:
    """Show measured values against limits; without a file, what to measure and which limits there are.

    Raises
    ------
    InputError
        With every fault of the scenario, then of the limits and the file of readings.
    OutputError
        When the form or the page cannot be written.
    """
    house = read_house(options.folder)
    job = job_of(house, lines)
    if form is not None:
        write_form(form, readings_form(job), options)
    if measured is None:
        show_sheet(to_read_sheet(house), to_read_document(house), options)
        return
    limits, readings = _read(measured, tolerances, job)
    results = judged(readings.readings, limits)
    square = squareness(readings.readings, job)
    show_sheet(
        readings_sheet(house, readings, results, square, limits),
        readings_document(house, readings, results, square, limits),
        options,
    )


def _read(measured: Path, tolerances: str, job: Job) -> tuple[ToleranceSet, Readings]:
    """Read both, and tell the faults of both at once."""
    gathering = Gathering()
    limits = gathering.read(lambda: tolerance_set(tolerances))
    readings = gathering.read(lambda: read_readings(measured, job))
    if limits is None or readings is None:
        raise InputError(gathering.faults)
    return limits, readings
