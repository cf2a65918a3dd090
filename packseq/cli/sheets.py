"""What every command that answers with a sheet does with it: tables, JSON, a page to print."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early
from packseq.files import write_whole
from packseq.page.sheets import sheet_page
from packseq.report.sheets import sheet_tables
from packseq.sheet import Sheet


@dataclass(frozen=True, slots=True)
class SheetOptions:
    """What was asked for: the scenario folder, the page to write if any, and how to show the rest."""

    folder: Path
    out: Path | None = None
    force: bool = False
    as_json: bool = False


def show_sheet(sheet: Sheet, document: dict[str, Any], options: SheetOptions) -> None:
    """Show a sheet as tables or as JSON, and write it as a page to print when asked.

    Parameters
    ----------
    sheet
        The sheet.
    document
        The same as plain data; title, scenario and cautions are put before it.
    options
        What was asked for.

    Raises
    ------
    OutputError
        When the page cannot be written; nothing is shown then.
    """
    if options.out is not None:
        refuse_early(options.out, options.folder, force=options.force)
        write_whole(options.out, sheet_page(sheet), force=options.force)
        write_aside([f"The sheet is in {options.out}"])
    if options.as_json:
        head = {"sheet": sheet.title, "scenario": sheet.house, "cautions": sheet.cautions}
        write_json({**head, **document})
    else:
        write_report(sheet_tables(sheet))


def write_form(path: Path, content: str, options: SheetOptions) -> None:
    """Write an empty file to fill in.

    Raises
    ------
    OutputError
        When it cannot be written.
    """
    refuse_early(path, options.folder, force=options.force)
    write_whole(path, content, force=options.force)
    write_aside([f"The empty form is in {path}"])
