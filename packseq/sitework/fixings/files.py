"""Reading a fixing schedule, a list of what was delivered, and which frames brace."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from packseq.errors import Fault, InputError
from packseq.scenario.cells import Cells
from packseq.scenario.files import read_text
from packseq.scenario.limits import HINTED_FAULTS, TITLE_LENGTH
from packseq.scenario.names import KnownNames, name_fault, name_key
from packseq.scenario.tables import Shape, read_table
from packseq.sitework.fixings.model import FUNCTIONS, Bracing, Delivered, Line, function_of
from packseq.sitework.fixings.places import KINDS

MOST_ROWS = 5000
MOST_EACH = 1000
MOST_DELIVERED = 1_000_000
MOST_UNITS = 5000.0
"""Caps that keep slips of the finger out; none of them comes from a standard."""


def read_schedule(path: Path, frames: Iterable[str]) -> tuple[Line, ...]:
    """Read a fixing schedule: what, where, how_many at each place, function if the name does not tell.

    Raises
    ------
    InputError
        With every fault.
    """
    shape = Shape(path.name, ("what", "where", "how_many"), ("function", "note"), ("where",), MOST_ROWS)
    places = KnownNames.of("frame or kind of place", (*KINDS, *frames), complete=True)
    table = read_table(read_text(path), shape)
    faults, lines = list(table.faults), []
    for row in table.rows:
        cells = Cells(path.name, row)
        what = _what(cells)
        where = cells.known("where", places, hint=len(faults) < HINTED_FAULTS)
        count = cells.whole("how_many", 0, MOST_EACH)
        function = cells.choice("function", FUNCTIONS, may_be_blank=True) or function_of(what)
        faults += cells.faults
        if where is not None and count is not None and not cells.faults:
            known = next(each for each in FUNCTIONS if each == function)
            lines.append(Line(what, known, where, count, row.number))
    _raise(faults)
    return tuple(lines)


def read_delivered(path: Path) -> tuple[Delivered, ...]:
    """Read what was delivered: what, how_many. Rows of one name are added up.

    Raises
    ------
    InputError
        With every fault.
    """
    table = read_table(
        read_text(path), Shape(path.name, ("what", "how_many"), ("note",), ("what",), MOST_ROWS)
    )
    faults = list(table.faults)
    counts: dict[str, Delivered] = {}
    for row in table.rows:
        cells = Cells(path.name, row)
        what = _what(cells)
        count = cells.whole("how_many", 0, MOST_DELIVERED)
        faults += cells.faults
        if count is not None and not cells.faults:
            before = counts.get(fixing_key(what), Delivered(what, 0))
            counts[fixing_key(what)] = Delivered(before.what, before.count + count)
    _raise(faults)
    return tuple(counts.values())


def read_bracing(path: Path, frames: Iterable[str]) -> tuple[Bracing, ...]:
    """Read which frames brace the house: frame, bracing_units of the whole frame.

    Raises
    ------
    InputError
        With every fault, a frame that is there twice among them.
    """
    table = read_table(
        read_text(path), Shape(path.name, ("frame", "bracing_units"), ("note",), ("frame",), MOST_ROWS)
    )
    names = KnownNames.of("frame", frames, complete=True)
    faults = list(table.faults)
    found: dict[str, Bracing] = {}
    for row in table.rows:
        cells = Cells(path.name, row)
        frame = cells.known("frame", names, hint=len(faults) < HINTED_FAULTS)
        units = cells.number("bracing_units", 1, MOST_UNITS)
        if frame in found:
            cells.add(f"{frame} is there twice", "frame")
        faults += cells.faults
        if frame is not None and units is not None and not cells.faults:
            found[frame] = Bracing(frame, units)
    _raise(faults)
    return tuple(found.values())


def fixing_key(what: str) -> str:
    """Return what two spellings of one fixing share: case, accents and runs of spaces do not count."""
    return " ".join(name_key(what).split())


def _what(cells: Cells) -> str:
    cell = cells.row.cells.get("what")
    if cell is None:
        return ""
    wrong = name_fault(cell, TITLE_LENGTH)
    if wrong is not None:
        cells.add(wrong, "what")
    return cell


def _raise(faults: list[Fault]) -> None:
    if faults:
        raise InputError(sorted(faults, key=lambda fault: fault.row or 0))
