"""The sheets of a workbook as the text of tables; a table is plain cells, and whatever is not is refused.

The reader, `openpyxl`, comes with the extra ``xlsx`` and is loaded only where there is a workbook.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packseq.errors import Fault
from packseq.scenario import limits
from packseq.scenario.names import shown

if TYPE_CHECKING:
    from openpyxl import Workbook as Book
    from openpyxl.worksheet.worksheet import Worksheet

INSTALL_XLSX = 'reading and writing .xlsx needs one more package: pip install "packseq[xlsx]"'

_NO_PLAIN_CELL = {
    "f": "holds a formula; paste its value in its place",
    "d": "holds a date or time ({}); format the cell as text or number and type it again",
    "e": "holds the error {}",
    "b": "holds a yes-or-no value; type it again as text or number",
}
_MOST_PARTS = 500
_MOST_FAULTS = 20
"""Cells of one kind named in a sheet; past that the sheet is no table."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """The text of each sheet that is a table, by the name of the file it stands for."""

    text: Mapping[str, str]
    faults: tuple[Fault, ...]


def read_workbook(
    content: bytes, file: str, tables: Sequence[str], needed: Sequence[Sequence[str]]
) -> Sheets:
    """Read the sheets of a workbook that stand for tables, such as ``frames`` for frames.csv.

    Other sheets are left alone. Rows keep their numbers. Faults of a sheet bear the name of the
    file that it stands for.

    Parameters
    ----------
    content
        The bytes of the workbook.
    file
        Its name, for faults.
    tables
        The files that sheets may stand for.
    needed
        Groups of files; of each group exactly one must be there.
    """
    wrong = _unsound(content)
    if wrong is not None:
        return Sheets({}, (Fault(file, wrong),))
    try:
        from openpyxl import load_workbook  # noqa: PLC0415 - an optional extra
    except ImportError:
        return Sheets({}, (Fault(file, INSTALL_XLSX),))
    try:
        book = load_workbook(io.BytesIO(content))
    except Exception as error:  # noqa: BLE001 - a broken workbook fails in many ways
        return Sheets({}, (Fault(file, f"cannot be read as a workbook ({type(error).__name__})"),))
    sheets = _by_file(book, tables)
    faults = list(_missing(sheets, file, needed))
    text: dict[str, str] = {}
    for name in tables:
        if name in sheets:
            own = list(_sheet_faults(sheets[name], name))
            faults += own
            if not own:
                text[name] = _csv_text(sheets[name])
    return Sheets(text, tuple(faults))


def _unsound(content: bytes) -> str | None:
    """Tell why the bytes are no workbook, or one that would take too much room when unpacked."""
    if content.startswith(b"\xd0\xcf\x11\xe0"):
        return "is an old .xls workbook, or one with a password; save it as .xlsx without a password"
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = archive.infolist()
            unpacked = sum(part.file_size for part in parts)
            if len(parts) > _MOST_PARTS or unpacked > limits.MOST_UNPACKED_BYTES:
                return (
                    f"unpacks to {unpacked:,} bytes in {len(parts)} parts; at most "
                    f"{limits.MOST_UNPACKED_BYTES:,} bytes in {_MOST_PARTS} parts are read"
                )
            for part in parts:
                # Sizes in the directory are claims; reading stops where they are exceeded.
                if b"<!DOCTYPE" in archive.read(part):
                    return f"holds a document type in {shown(part.filename)}, which no spreadsheet writes"
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError, ValueError) as error:
        return f"cannot be read as a workbook ({error})"
    except Exception as error:  # noqa: BLE001 - decompressors have errors of their own
        return f"cannot be read as a workbook ({type(error).__name__})"
    return None


def _by_file(book: Book, tables: Sequence[str]) -> dict[str, Worksheet]:
    titles = {name.removesuffix(".csv"): name for name in tables}
    found: dict[str, Worksheet] = {}
    for sheet in book.worksheets:
        name = titles.get(sheet.title.strip().casefold())
        if name is not None:
            found.setdefault(name, sheet)
    return found


def _missing(sheets: Mapping[str, Worksheet], file: str, needed: Sequence[Sequence[str]]) -> Iterator[Fault]:
    for group in needed:
        there = [name for name in group if name in sheets]
        titles = [name.removesuffix(".csv") for name in group]
        if not there:
            yield Fault(file, f"has no sheet named {' or '.join(titles)}")
        elif len(there) > 1:
            yield Fault(file, f"has the sheets {' and '.join(titles)}; keep one of the two")


def _sheet_faults(sheet: Worksheet, table: str) -> Iterator[Fault]:
    """Tell what in a sheet is not plain cells, or cannot be seen by whoever filled it in."""
    if sheet.sheet_state != "visible":
        yield Fault(table, "the sheet is hidden; show it, so that what is read is what you see")
    if sheet.max_row > limits.MOST_SHEET_ROWS or sheet.max_column > limits.MOST_SHEET_COLUMNS:
        yield Fault(
            table,
            f"has cells down to row {sheet.max_row} and across to column {sheet.max_column}; at most "
            f"{limits.MOST_SHEET_ROWS} rows and {limits.MOST_SHEET_COLUMNS} columns are read: "
            "delete the rows and columns outside the table",
        )
        return
    for merged in sorted(str(block) for block in sheet.merged_cells.ranges)[:_MOST_FAULTS]:
        yield Fault(table, f"cells {merged} are merged; unmerge them, so that each has its own value")
    hidden = [number for number, row in sorted(sheet.row_dimensions.items()) if row.hidden]
    for number in [number for number in hidden if number <= sheet.max_row][:_MOST_FAULTS]:
        yield Fault(table, "the row is hidden; show it or delete it", row=number)
    for letter, column in sorted(sheet.column_dimensions.items()):
        if column.hidden:
            yield Fault(table, f"column {letter} is hidden; show it or delete it")
    yield from list(_cell_faults(sheet, table))[:_MOST_FAULTS]


def _cell_faults(sheet: Worksheet, table: str) -> Iterator[Fault]:
    from openpyxl.utils import get_column_letter  # noqa: PLC0415 - an optional extra

    for row in sheet.iter_rows():
        for cell in row:
            text = _NO_PLAIN_CELL.get(cell.data_type)
            if cell.value is not None and text is not None:
                column = get_column_letter(cell.column)
                yield Fault(table, text.format(cell.value), row=cell.row, column=column)


def _csv_text(sheet: Worksheet) -> str:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    for row in sheet.iter_rows(values_only=True):
        writer.writerow(["" if value is None else _plain(value) for value in row])
    return text.getvalue()


def _plain(value: object) -> str:
    """Return a cell as a table has it; a spreadsheet's own noise in the last digits is rounded off."""
    if isinstance(value, float):
        return f"{value:.12g}"
    return str(value)
