"""Tables as the sheets of one workbook."""

from __future__ import annotations

import io
from collections.abc import Iterable

from packseq.entry.tables import Cell, Grid
from packseq.errors import OutputError
from packseq.scenario.workbook import INSTALL_XLSX

_LEAST_WIDTH = 10


def workbook_bytes(grids: Iterable[Grid]) -> bytes:
    """Return the bytes of an .xlsx workbook with a sheet for each table, its header kept in view.

    Raises
    ------
    OutputError
        When the extra that writes workbooks is not installed.
    """
    try:
        from openpyxl import Workbook  # noqa: PLC0415 - an optional extra
        from openpyxl.styles import Font  # noqa: PLC0415
        from openpyxl.utils import get_column_letter  # noqa: PLC0415
    except ImportError as error:
        raise OutputError(INSTALL_XLSX) from error
    book = Workbook()
    book.remove(book.worksheets[0])
    for grid in grids:
        sheet = book.create_sheet(grid.file.removesuffix(".csv"))
        for number, row in enumerate((grid.columns, *grid.rows), start=1):
            for place, value in enumerate(row, start=1):
                cell = sheet.cell(number, place)
                if isinstance(value, str):
                    # As text, whatever it looks like: a frame may be called "=1" or "3-4".
                    cell.value = value
                    cell.data_type = "s"
                    cell.number_format = "@"
                elif value is not None:
                    cell.value = _tidy(value)
                if number == 1:
                    cell.font = Font(bold=True)
        for place, column in enumerate(grid.columns, start=1):
            sheet.column_dimensions[get_column_letter(place)].width = max(_LEAST_WIDTH, len(column) + 2)
        sheet.freeze_panes = "A2"
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _tidy(value: Cell) -> Cell:
    """Return whole numbers without a point."""
    return int(value) if isinstance(value, float) and value.is_integer() else value
