"""What every command that answers with a sheet does with it: tables, JSON, a page to print."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from packseq.cli.streams import write_json, write_report
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
    """
    if options.as_json:
        head = {"sheet": sheet.title, "scenario": sheet.house, "cautions": sheet.cautions}
        write_json({**head, **document})
    else:
        write_report(sheet_tables(sheet))
