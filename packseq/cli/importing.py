"""``packseq import``."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path

from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_folder_early
from packseq.errors import InputError, OutputError
from packseq.files import write_folder
from packseq.report.sheets import sheet_tables
from packseq.scenario.files import FRAMES, OPENINGS, PACKS, SITE

ACCOUNT = "IMPORT.md"
INSTALL_IFC = 'reading a building model needs one more package: pip install "packseq[ifc]"'


def import_model(
    file: Path, out: Path, storey: str | None, most_mm: float, *, force: bool, as_json: bool
) -> None:
    """Write a storey of a building model as a scenario folder, and tell what became of every wall.

    The folder is written even where the house cannot be planned as the model has it, so that it can
    be mended there; then what is wrong is raised.

    Raises
    ------
    InputError
        When the file is no model that can be read, or has no such walls; or, with the folder written,
        when ``packseq check`` refuses it as it stands.
    OutputError
        When the folder is kept or cannot be written, or the reader is not installed.
    """
    refuse_folder_early(out, (SITE, FRAMES, OPENINGS, PACKS, ACCOUNT), force=force)
    if find_spec("ifcopenshell") is None:
        raise OutputError(INSTALL_IFC)
    from packseq.entry.ifc.account import import_document, import_sheet, import_text  # noqa: PLC0415
    from packseq.entry.ifc.job import scenario_of  # noqa: PLC0415
    from packseq.entry.ifc.read import read_storey  # noqa: PLC0415

    imported = scenario_of(read_storey(file, storey, most_mm), file.name)
    write_folder(out, {**imported.files, ACCOUNT: import_text(imported)}, force=force)
    if as_json:
        write_json(import_document(imported))
    else:
        write_report(sheet_tables(import_sheet(imported)))
    written = f"The scenario is in {out}; the account of every wall is in {ACCOUNT} there."
    if imported.faults:
        write_aside([written, "packseq check refuses it as it stands. To be mended in that folder first:"])
        raise InputError(imported.faults)
    write_aside([f"{written} It reads without fault."])
