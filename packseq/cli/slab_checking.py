"""``packseq slab``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.choices import read_house
from packseq.cli.sheets import SheetOptions, show_sheet, write_form
from packseq.sitework.slab.build import SlabFiles, base_of, read_slab
from packseq.sitework.slab.document import slab_document, to_measure_document
from packseq.sitework.slab.edgewords import EdgeChoices
from packseq.sitework.slab.sheet import slab_sheet
from packseq.sitework.slab.tosheet import levels_form, tapes_form, to_measure_sheet


def show_slab(
    files: SlabFiles,
    choices: EdgeChoices,
    options: SheetOptions,
    *,
    form: Path | None,
    level_form: Path | None,
) -> None:
    """Show a slab as measured and how the frames fit on it; without measured files, what to measure.

    Raises
    ------
    InputError
        With every fault of the scenario, then of the measured files.
    OutputError
        When a form or the page cannot be written.
    """
    house = read_house(options.folder)
    base = base_of(house)
    if form is not None:
        write_form(form, tapes_form(house, base), options)
    if level_form is not None:
        write_form(level_form, levels_form(house), options)
    if files.measured is None and files.levels is None:
        show_sheet(to_measure_sheet(house, base), to_measure_document(house, base), options)
        return
    measured, levels = read_slab(house, base, files)
    show_sheet(
        slab_sheet(house, base, measured, levels, choices),
        slab_document(house, base, measured, levels, choices),
        options,
    )
