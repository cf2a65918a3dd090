"""The file of measured sides and diagonals."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from packseq.errors import Fault, InputError
from packseq.geometry import Point
from packseq.scenario.cells import Cells
from packseq.scenario.files import read_text
from packseq.scenario.limits import COORDINATE_MM, HINTED_FAULTS
from packseq.scenario.names import KnownNames
from packseq.scenario.tables import Shape, read_table
from packseq.sitework.slab.doubts import doubts
from packseq.sitework.slab.model import Tape, Tapes
from packseq.sitework.tapesd import tape_sd_mm

COLUMNS: Mapping[str, str] = {
    "from": "the corner where the tape is held, such as C1",
    "to": "the corner where it is read",
    "measured_mm": "what it says, in mm; left blank where it could not be measured",
    "sd_mm": "standard deviation of the reading in mm, if known; may be left out",
    "note": "anything; not read; may be left out",
}
MOST_ROWS = 2000
_LEAST_SD_MM, _MOST_SD_MM = 0.1, 1000.0


def read_tapes(path: Path, corners: Mapping[str, Point]) -> Tapes:
    """Read measured distances between corners of the slab.

    Parameters
    ----------
    path
        The file.
    corners
        Where the corners are drawn, by name.

    Raises
    ------
    InputError
        With every fault: of the file's form, its names and numbers; readings that are in another unit, far
        from what is drawn, or that cannot belong together.
    """
    shape = Shape(path.name, ("from", "to", "measured_mm"), ("sd_mm", "note"), ("from", "to"), MOST_ROWS)
    table = read_table(read_text(path), shape)
    names = KnownNames.of("corner", corners, complete=True)
    faults = list(table.faults)
    readings: list[Tape] = []
    blank: list[tuple[int, tuple[str, str]]] = []
    for row in table.rows:
        cells = Cells(path.name, row)
        pair = _pair(cells, names, hint=len(faults) < HINTED_FAULTS)
        measured = cells.number("measured_mm", 0.001, COORDINATE_MM, may_be_blank=True)
        sd_mm = cells.number("sd_mm", _LEAST_SD_MM, _MOST_SD_MM, may_be_blank=True)
        faults.extend(cells.faults)
        if pair is None or cells.faults:
            continue
        if measured is None:
            blank.append((row.number, pair))
        else:
            readings.append(Tape(row.number, pair, measured, sd_mm or tape_sd_mm(measured)))
    if table.rows and not readings and not faults:
        faults.append(Fault(path.name, "no row has a measured value", column="measured_mm"))
    faults += doubts(path.name, readings, corners)
    if faults:
        raise InputError(sorted(faults, key=lambda fault: fault.row or 0))
    return Tapes(tuple(readings), tuple(blank))


def _pair(cells: Cells, names: KnownNames, *, hint: bool) -> tuple[str, str] | None:
    first, second = (cells.known(column, names, hint=hint) for column in ("from", "to"))
    if first is None or second is None:
        return None
    if first == second:
        cells.add(f"both ends are at {first}", "to")
        return None
    order = list(names.spelling.values())
    return (first, second) if order.index(first) < order.index(second) else (second, first)
