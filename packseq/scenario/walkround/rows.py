"""layout.csv: its columns, and its rows before any frame has a place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, cast

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.cells import Cells
from packseq.scenario.files import LAYOUT
from packseq.scenario.frames import LOCATIONS, read_mass_kg, repeated_names
from packseq.scenario.model import Location
from packseq.scenario.names import KnownNames, label, shown
from packseq.scenario.tables import Row, Shape, Table
from packseq.scenario.walkround.headings import Heading, parse_heading

Through = Literal["east-west", "north-south", "this", "last"]
End = Literal["n", "e", "s", "w", "left", "right", "start", "finish"]

LAYOUT_SHAPE = Shape(
    file=LAYOUT,
    required=("frame", "heading", "length_mm", "height_mm", "thickness_mm"),
    optional=(
        "from",
        "at_mm",
        "end",
        "to",
        "through",
        "gap_mm",
        "x_mm",
        "y_mm",
        "level",
        "location",
        "mass_kg",
    ),
    names=("frame",),
    most_rows=limits.MOST_FRAMES,
)
CORNER_WORDS: tuple[Through, ...] = ("east-west", "north-south", "this", "last")
_ENDS: Mapping[str, End] = {
    "n": "n",
    "e": "e",
    "s": "s",
    "w": "w",
    "north": "n",
    "east": "e",
    "south": "s",
    "west": "w",
    "left": "left",
    "right": "right",
    "start": "start",
    "finish": "finish",
}
_HEIGHTS_MM = (limits.LEAST_HEIGHT_MM, limits.MOST_HEIGHT_MM)
_THICKNESSES_MM = (limits.LEAST_THICKNESS_MM, limits.MOST_THICKNESS_MM)


@dataclass(frozen=True, slots=True)
class LayoutRow:
    """One row of layout.csv; None stands for a blank cell or one that could not be read.

    `before` is the frame that the row starts at: the one named in `from`, else the one in the
    row above (then it `follows`), else None where a walk begins. `start` is where its centre line
    begins, if that is given. Level, height, thickness and `through` are carried down. `sound` is
    False where a cell could not be read.
    """

    name: str
    number: int
    level: int
    heading: Heading | None
    length_mm: float | None
    to: str | None
    before: str | None
    follows: bool
    at_mm: float | None
    end: End | None
    through: Through | None
    gap_mm: float
    start: Point | None
    height_mm: float | None
    thickness_mm: float | None
    location: Location | None
    mass_kg: float | None
    sound: bool

    def fault(self, text: str, column: str | None = None) -> Fault:
        """Return a fault of this row."""
        return Fault(LAYOUT, text, row=self.number, column=column, frame=label(self.name))


@dataclass(slots=True)
class _Above:
    """What the row above leaves for the next one."""

    name: str | None = None
    level: int = 1
    through: Through | None = None
    height_mm: float | None = None
    thickness_mm: float | None = None


def read_layout_rows(table: Table) -> tuple[tuple[LayoutRow, ...], tuple[Fault, ...]]:
    """Read every row of layout.csv, with whatever is wrong in the cells of any of them."""
    names = KnownNames.of(
        "frame", (row.cells.get("frame", "") for row in table.rows), complete=table.complete
    )
    rows: list[LayoutRow] = []
    faults: list[Fault] = list(table.faults)
    above = _Above()
    for row in table.rows:
        read, row_faults = _read_row(row, names, above, hint=len(faults) < limits.HINTED_FAULTS)
        rows.append(read)
        faults.extend(row_faults)
        above = _Above(names.find(read.name), read.level, read.through, read.height_mm, read.thickness_mm)
    faults.extend(repeated_names(LAYOUT, [(row.name, row.number) for row in rows]))
    return tuple(rows), tuple(faults)


def _read_row(row: Row, names: KnownNames, above: _Above, *, hint: bool) -> tuple[LayoutRow, list[Fault]]:
    own_name = row.cells.get("frame")
    cells = Cells(LAYOUT, row, label(own_name) if own_name else None)
    name = cells.name("frame")
    level = cells.whole("level", 1, limits.MOST_LEVELS, blank=above.level, may_be_blank=True) or above.level
    start = _start(cells)
    before = _named(cells, "from", names, hint=hint)
    follows = before is None and start is None and level == above.level and above.name is not None
    to = _named(cells, "to", names, hint=hint)
    length_mm = cells.number(
        "length_mm", limits.LEAST_FRAME_MM, limits.MOST_FRAME_MM, may_be_blank=bool(row.cells.get("to"))
    )
    at_mm = cells.number("at_mm", -limits.MOST_THICKNESS_MM, limits.MOST_FRAME_MM, may_be_blank=True)
    gap_mm = cells.number("gap_mm", 0, limits.MOST_FRAME_MM, blank=0.0, may_be_blank=True)
    end = cells.choice("end", tuple(_ENDS), may_be_blank=True)
    through = cast("Through | None", cells.choice("through", CORNER_WORDS, may_be_blank=True))
    heading = _heading(cells)
    height_mm = _carried(cells, "height_mm", _HEIGHTS_MM, above.height_mm)
    thickness_mm = _carried(cells, "thickness_mm", _THICKNESSES_MM, above.thickness_mm)
    location = cast("Location | None", cells.choice("location", LOCATIONS, may_be_blank=True))
    mass_kg = read_mass_kg(cells)
    read = LayoutRow(
        name=name,
        number=row.number,
        level=level,
        heading=heading,
        length_mm=length_mm,
        to=to,
        before=above.name if follows else before,
        follows=follows,
        at_mm=at_mm,
        end=_ENDS[end] if end else None,
        through=through or above.through,
        gap_mm=gap_mm or 0.0,
        start=start,
        height_mm=height_mm,
        thickness_mm=thickness_mm,
        location=location,
        mass_kg=mass_kg,
        sound=not cells.faults,
    )
    return read, cells.faults


def _start(cells: Cells) -> Point | None:
    """Read where a walk begins: both coordinates, or neither."""
    x_mm, y_mm = (
        cells.number(column, -limits.COORDINATE_MM, limits.COORDINATE_MM, may_be_blank=True)
        for column in ("x_mm", "y_mm")
    )
    given = [column for column in ("x_mm", "y_mm") if cells.row.cells.get(column)]
    if len(given) == 1:
        cells.add("x_mm and y_mm go together", given[0])
    for column in ("from", "at_mm", "end"):
        if given and cells.row.cells.get(column):
            cells.add("leave this blank: the frame is placed by x_mm and y_mm", column)
    return None if x_mm is None or y_mm is None else (x_mm, y_mm)


def _named(cells: Cells, column: str, names: KnownNames, *, hint: bool) -> str | None:
    """Read the name of another frame, or nothing."""
    if not cells.row.cells.get(column):
        return None
    found = cells.known(column, names, hint=hint)
    if found is not None and found == names.find(cells.row.cells.get("frame", "")):
        cells.add("names the frame itself", column)
    return found


def _heading(cells: Cells) -> Heading | None:
    text = cells.row.cells.get("heading")
    if not text:
        return None
    heading = parse_heading(text)
    if heading is None:
        cells.add(
            f"{shown(text)} is no heading; write N, E, S, W, NE and so on, a bearing such as N30E, "
            f"or a turn: L, R, R45",
            "heading",
        )
    return heading


def _carried(cells: Cells, column: str, within: tuple[int, int], above: float | None) -> float | None:
    """Read a size that holds for the rows below too, until another is given."""
    value = cells.number(column, *within, blank=above, may_be_blank=True)
    if value is None and column in cells.row.cells and not cells.row.cells[column]:
        cells.add("not given; give it here, and it holds for the rows below until another is given", column)
    return value
