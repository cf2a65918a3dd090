"""frames.csv: the frames as delivered, before their openings are known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.cells import Cells
from packseq.scenario.files import FRAMES
from packseq.scenario.mass import estimate_mass_kg
from packseq.scenario.model import Frame, Location, Opening
from packseq.scenario.names import label, name_key
from packseq.scenario.tables import Row, Shape, Table

FRAMES_SHAPE = Shape(
    file=FRAMES,
    required=("frame", "x1_mm", "y1_mm", "x2_mm", "y2_mm", "height_mm", "thickness_mm"),
    optional=("level", "location", "mass_kg"),
    names=("frame",),
    most_rows=limits.MOST_FRAMES,
)
LOCATIONS = ("external", "internal")


@dataclass(frozen=True, slots=True)
class FrameRow:
    """One row of frames.csv, or what one of layout.csv comes to; None stands for what could not be read.

    `name` is blank only where the cell is; a missing `location` or `mass_kg` may also mean
    that the cell is blank, which is allowed.
    """

    name: str
    number: int
    level: int | None
    start: Point | None
    end: Point | None
    height_mm: float | None
    thickness_mm: float | None
    location: Location | None
    mass_kg: float | None

    @property
    def length_mm(self) -> float | None:
        """Length of the bottom plate in mm, where both ends are known."""
        return None if self.start is None or self.end is None else math.dist(self.start, self.end)

    def frame(self, openings: tuple[Opening, ...], file: str) -> Frame | None:
        """Return the frame, its mass estimated where none is given, or None if the row is faulty."""
        if (
            self.level is None
            or self.start is None
            or self.end is None
            or self.height_mm is None
            or self.thickness_mm is None
        ):
            return None
        mass_kg = self.mass_kg
        if mass_kg is None:
            length_mm = math.dist(self.start, self.end)
            mass_kg = estimate_mass_kg(length_mm, self.height_mm, self.thickness_mm, openings)
        return Frame(
            name=self.name,
            level=self.level,
            start=self.start,
            end=self.end,
            height_mm=self.height_mm,
            thickness_mm=self.thickness_mm,
            location=self.location,
            mass_kg=mass_kg,
            mass_is_estimate=self.mass_kg is None,
            openings=openings,
            row=self.number,
            file=file,
        )


def read_frame_rows(table: Table) -> tuple[tuple[FrameRow, ...], tuple[Fault, ...]]:
    """Read every row of frames.csv, with whatever is wrong in any of them."""
    rows: list[FrameRow] = []
    faults: list[Fault] = list(table.faults)
    for row in table.rows:
        frame_row, row_faults = _read_row(row)
        rows.append(frame_row)
        faults.extend(row_faults)
    faults.extend(repeated_names(FRAMES, [(row.name, row.number) for row in rows]))
    return tuple(rows), tuple(faults)


def _read_row(row: Row) -> tuple[FrameRow, list[Fault]]:
    name = row.cells.get("frame")
    cells = Cells(FRAMES, row, label(name) if name else None)
    read = FrameRow(
        name=cells.name("frame"),
        number=row.number,
        level=cells.whole("level", 1, limits.MOST_LEVELS, blank=1, may_be_blank=True),
        start=_point(cells, "x1_mm", "y1_mm"),
        end=_point(cells, "x2_mm", "y2_mm"),
        height_mm=cells.number("height_mm", limits.LEAST_HEIGHT_MM, limits.MOST_HEIGHT_MM),
        thickness_mm=cells.number("thickness_mm", limits.LEAST_THICKNESS_MM, limits.MOST_THICKNESS_MM),
        location=cast("Location | None", cells.choice("location", LOCATIONS, may_be_blank=True)),
        mass_kg=read_mass_kg(cells),
    )
    length_mm = read.length_mm
    if length_mm is not None and not limits.LEAST_FRAME_MM <= length_mm <= limits.MOST_FRAME_MM:
        cells.add(
            f"the frame is {length_mm:.0f} mm long; a frame is from {limits.LEAST_FRAME_MM} "
            f"to {limits.MOST_FRAME_MM} mm long",
            "x2_mm",
        )
    return read, cells.faults


def _point(cells: Cells, x_column: str, y_column: str) -> Point | None:
    x = cells.number(x_column, -limits.COORDINATE_MM, limits.COORDINATE_MM)
    y = cells.number(y_column, -limits.COORDINATE_MM, limits.COORDINATE_MM)
    return None if x is None or y is None else (x, y)


def read_mass_kg(cells: Cells) -> float | None:
    """Read the mass of a frame; a blank cell leaves it to be estimated."""
    mass_kg = cells.number("mass_kg", 0, limits.MOST_MASS_KG, may_be_blank=True)
    if mass_kg == 0:
        cells.add("a frame cannot weigh nothing; leave the cell blank to have the mass estimated", "mass_kg")
        return None
    return mass_kg


def repeated_names(file: str, names: Sequence[tuple[str, int]]) -> list[Fault]:
    """Tell which frames take the name of an earlier one, from the names of a file and their rows."""
    faults: list[Fault] = []
    first: dict[str, int] = {}
    for name, number in names:
        earlier = first.setdefault(name_key(name), number)
        if name and earlier != number:
            text = f"the name is already taken in row {earlier}"
            faults.append(Fault(file, text, row=number, column="frame", frame=label(name)))
    return faults
