"""The cells of one row as values, with what is wrong in them gathered."""

from __future__ import annotations

import re

from packseq.errors import Fault
from packseq.scenario.names import KnownNames, name_fault, shown
from packseq.scenario.tables import Row

_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
_DECIMAL_COMMA = re.compile(r"[+-]?[0-9]*,[0-9]+")
_THOUSANDS = re.compile(r"[+-]?[0-9]{1,3}\.[0-9]{3}")
"""With decimal commas about, a point before three digits may well be a thousands separator."""

_GROUPED = re.compile(r"[+-]?[0-9]{1,3}([.,' \u00a0\u202f\u2019][0-9]{3})+([.,][0-9]+)?")


class Cells:
    """Reads the cells of one row one at a time; `faults` holds what was wrong so far.

    Every reader returns None where the cell has no usable value: a fault was then added,
    unless the column itself is absent (told once for the whole table) or a blank is allowed.
    """

    def __init__(self, file: str, row: Row, frame: str | None = None) -> None:
        self.file = file
        self.row = row
        self.frame = frame
        self.faults: list[Fault] = []

    def add(self, text: str, column: str) -> None:
        """Add a fault of this row."""
        self.faults.append(Fault(self.file, text, row=self.row.number, column=column, frame=self.frame))

    def number(
        self,
        column: str,
        least: float,
        most: float,
        *,
        blank: float | None = None,
        may_be_blank: bool = False,
    ) -> float | None:
        """Read a number from `least` to `most`; a blank cell, if allowed, is read as `blank`."""
        cell = self.row.cells.get(column, "" if may_be_blank else None)
        if cell is None:
            return None
        if not cell:
            if not may_be_blank:
                self.add("not given", column)
            return blank
        plain = cell
        if self.row.decimal_comma:
            if _THOUSANDS.fullmatch(cell):
                whole = cell.replace(".", "")
                self.add(f"{shown(cell)} may mean {whole} or {cell.replace('.', ',')}; write it so", column)
                return None
            plain = cell.replace(",", ".") if _DECIMAL_COMMA.fullmatch(cell) else cell
        if not _NUMBER.fullmatch(plain):
            self.add(f"{shown(cell)} is not a number{_number_hint(cell)}", column)
            return None
        value = float(plain)
        if not least <= value <= most:
            self.add(f"{shown(cell)} must be from {least:.10g} to {most:.10g}", column)
            return None
        return value

    def whole(
        self, column: str, least: int, most: int, *, blank: int | None = None, may_be_blank: bool = False
    ) -> int | None:
        """Read a whole number from `least` to `most`; a blank cell, if allowed, is read as `blank`."""
        value = self.number(column, least, most, blank=blank, may_be_blank=may_be_blank)
        if value is None:
            return None
        if value != int(value):
            self.add(f"{shown(self.row.cells[column])} is not a whole number", column)
            return None
        return int(value)

    def choice(self, column: str, choices: tuple[str, ...], *, may_be_blank: bool = False) -> str | None:
        """Read one of a few words, ignoring case."""
        cell = self.row.cells.get(column)
        if cell is None:
            return None
        if cell.casefold() in choices:
            return cell.casefold()
        if cell or not may_be_blank:
            given = f"not {shown(cell)}" if cell else "but is not given"
            self.add(f"must be one of {', '.join(choices)}, {given}", column)
        return None

    def name(self, column: str) -> str:
        """Read a new name; what comes back is blank only where the cell is blank or absent."""
        cell = self.row.cells.get(column)
        if cell is None:
            return ""
        wrong = name_fault(cell)
        if wrong is not None:
            self.add(wrong, column)
        return cell

    def known(self, column: str, names: KnownNames, *, hint: bool) -> str | None:
        """Read a name that must be among known ones; returns the spelling that is kept."""
        cell = self.row.cells.get(column)
        if cell is None:
            return None
        wrong = names.fault(cell, hint=hint) if cell else "the name is not given"
        if wrong is not None:
            self.add(wrong, column)
        return names.find(cell)


def _number_hint(cell: str) -> str:
    if _DECIMAL_COMMA.fullmatch(cell):
        return "; a decimal point is written as a point"
    return "; write it without thousands separators" if _GROUPED.fullmatch(cell) else ""
