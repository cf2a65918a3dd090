"""One table of text, its cells separated by commas or semicolons: its header and its rows."""

from __future__ import annotations

import csv
import difflib
import io
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.errors import Fault
from packseq.scenario.names import shown

MOST_COLUMNS = 50
_SEMICOLON = ";"


@dataclass(frozen=True, slots=True)
class Shape:
    """What a table may hold.

    `required` and `optional` are its columns (an optional one may be left out altogether),
    `names` those of them that hold names, and `most_rows` the cap on its rows.
    `may_be_empty` tells that a header alone will do.
    """

    file: str
    required: tuple[str, ...]
    optional: tuple[str, ...]
    names: tuple[str, ...]
    most_rows: int
    may_be_empty: bool = False

    @property
    def columns(self) -> tuple[str, ...]:
        """Every column the table may have."""
        return self.required + self.optional


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number as a spreadsheet shows it, and its trimmed cells by column.

    A column that the table or the row lacks is not among `cells`. `decimal_comma` tells that
    numbers may be written with a comma, as they are where semicolons separate the cells.
    """

    number: int
    cells: Mapping[str, str]
    decimal_comma: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """The rows of one file that are not blank.

    `complete` is False where names may be missing because part of the file could not be read.
    """

    file: str
    rows: tuple[Row, ...] = ()
    complete: bool = True
    faults: tuple[Fault, ...] = ()


def read_table(text: str, shape: Shape) -> Table:
    """Read a table; whatever is wrong with its form comes back as faults.

    Rows that are blank are passed over, and so are blank cells past the end of the header.
    Of a row with too few or too many cells only the names are kept, so that other files can
    still be checked against them without blaming cells that have slipped sideways.
    """
    separator = _separator(text)
    records, broken = _records(text, shape, separator)
    faults = [] if broken is None else [broken]
    if not records:
        if broken is None:
            faults = [
                Fault(shape.file, f"is empty; its first row names the columns {_listed(shape.columns)}")
            ]
        return Table(shape.file, complete=False, faults=tuple(faults))

    header_number, header = records[0]
    columns = [name.strip().casefold() for name in header]
    while columns and not columns[-1]:
        columns.pop()
    faults.extend(_header_faults(columns, shape, header_number))
    # A column named twice is as good as absent: nobody knows which of the two is meant.
    usable = {column for column, count in Counter(columns).items() if count == 1}
    rows: list[Row] = []
    for number, record in records[1:]:
        cells = [cell.strip() for cell in record]
        while len(cells) > len(columns) and not cells[-1]:
            cells.pop()
        row = {column: cell for column, cell in zip(columns, cells, strict=False) if column in usable}
        if len(cells) != len(columns):
            text = f"has {len(cells)} cells where the header has {len(columns)}"
            faults.append(Fault(shape.file, text, row=number))
            row = {column: cell for column, cell in row.items() if column in shape.names}
        rows.append(Row(number, row, decimal_comma=separator == _SEMICOLON))
    if not rows and broken is None and not shape.may_be_empty:
        faults.append(Fault(shape.file, "has no rows below its header"))
    return Table(shape.file, tuple(rows), broken is None and set(shape.names) <= usable, tuple(faults))


def _separator(text: str) -> str:
    """Return what separates the cells: semicolons where the first line that is not blank has them, no commas.

    European spreadsheets save so, because they write decimals with a comma.
    """
    header = next((line for line in text.split("\n") if line.strip()), "")
    return _SEMICOLON if _SEMICOLON in header and "," not in header else ","


def _records(text: str, shape: Shape, separator: str) -> tuple[list[tuple[int, list[str]]], Fault | None]:
    """Return the numbered records that are not blank, and why reading stopped early if it did."""
    records: list[tuple[int, list[str]]] = []
    number = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for number, record in enumerate(reader, start=1):
            if not any(cell.strip() for cell in record):
                continue
            if len(records) > shape.most_rows:
                return records, Fault(
                    shape.file, f"has more than {shape.most_rows} rows, the most that is read"
                )
            records.append((number, record))
    except csv.Error as error:
        return records, Fault(shape.file, _csv_words(str(error)), row=number + 1)
    return records, None


def _csv_words(message: str) -> str:
    if "unexpected end of data" in message:
        return "a quotation mark is opened and never closed"
    if "field limit" in message:
        return f"a cell is longer than {csv.field_size_limit()} characters; is a quotation mark never closed?"
    if "expected after" in message:
        return "text follows a closing quotation mark; inside a quoted cell a quotation mark is written twice"
    return f"cannot be read as a table ({message})"


def _header_faults(columns: Sequence[str], shape: Shape, row: int) -> Iterator[Fault]:
    if len(columns) > MOST_COLUMNS:
        yield Fault(
            shape.file, f"has {len(columns)} columns; its columns are {_listed(shape.columns)}", row=row
        )
        return
    if len(columns) == 1 and "\t" in columns[0]:
        yield Fault(shape.file, "separates its cells with tabs; save it with commas or semicolons", row=row)
        return
    counts = Counter(columns)
    for position, column in enumerate(columns, start=1):
        if not column:
            yield Fault(shape.file, f"column {position} has no name", row=row)
    for column, count in counts.items():
        if column and column not in shape.columns:
            near = difflib.get_close_matches(column, shape.columns, n=1)
            hint = f"; did you mean {near[0]}?" if near else f"; the columns are {_listed(shape.columns)}"
            yield Fault(shape.file, f"there is no column {shown(column)}{hint}", row=row)
        elif column and count > 1:
            yield Fault(shape.file, f"the column is there {count} times", row=row, column=column)
    for column in shape.required:
        if column not in counts:
            yield Fault(shape.file, "the column is missing", row=row, column=column)


def _listed(columns: Sequence[str]) -> str:
    return ", ".join(columns)
