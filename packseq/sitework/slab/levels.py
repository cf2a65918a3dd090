"""Level readings along the plate lines: the file, high and low spots, packing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

from packseq.errors import Fault, InputError
from packseq.house.model import House
from packseq.scenario.cells import Cells
from packseq.scenario.files import read_text
from packseq.scenario.limits import HINTED_FAULTS, MOST_FRAME_MM
from packseq.scenario.model import Frame
from packseq.scenario.names import KnownNames
from packseq.scenario.tables import Shape, read_table

COLUMNS: Mapping[str, str] = {
    "frame": "the frame whose plate line it is on",
    "at_mm": "how far along the frame from its end 1",
    "staff_mm": "what the staff reads there at the laser or level line: more is lower",
    "height_mm": "instead of staff_mm: the height over any one mark: more is higher",
    "note": "anything; not read; may be left out",
}
MOST_ROWS = 5000

_MOST_SPAN_MM = 200.0
"""Readings of one slab that span more are slips of the finger: from no standard."""

_LEAST_MM, _MOST_MM = -20_000.0, 20_000.0
_SLACK_MM = 0.5


@dataclass(frozen=True, slots=True)
class Station:
    """One reading: where it is and how high the slab is there, over any one mark, in mm."""

    row: int
    frame: str
    at_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A station compared with the others: over the mean of all, and the packing up to the highest, in mm."""

    station: Station
    over_mean_mm: float
    packing_mm: float

    def verdict(self, within_mm: float) -> str:
        """Return ``high``, ``low`` or ``level``, by how far it may lie off the mean."""
        if abs(self.over_mean_mm) <= within_mm:
            return "level"
        return "high" if self.over_mean_mm > 0 else "low"


@dataclass(frozen=True, slots=True)
class Levels:
    """Every station in the order of the file, the rows left blank, the span from lowest to highest in mm."""

    spots: tuple[Spot, ...]
    blank_rows: tuple[int, ...]

    @property
    def span_mm(self) -> float:
        """From the lowest to the highest station: the most packing anywhere."""
        return max(spot.packing_mm for spot in self.spots)

    @property
    def highest(self) -> Spot:
        """The station that every other is packed up to."""
        return min(self.spots, key=lambda spot: spot.packing_mm)


def read_levels(path: Path, house: House, level: int) -> Levels:
    """Read level readings of one level's plate lines, and compare them.

    Raises
    ------
    InputError
        With every fault: of the file's form, its names and numbers, a station past the end of its frame or
        read twice, readings that span more than a slab can.
    """
    shape = Shape(path.name, ("frame", "at_mm"), ("staff_mm", "height_mm", "note"), ("frame",), MOST_ROWS)
    table = read_table(read_text(path), shape)
    frames = {name: frame for name, frame in house.scenario.frames.items() if frame.level == level}
    names = KnownNames.of("frame", frames, complete=True)
    faults = list(table.faults)
    stations: list[Station] = []
    blank: list[int] = []
    for row in table.rows:
        cells = Cells(path.name, row, names.find(row.cells.get("frame", "")))
        name = cells.known("frame", names, hint=len(faults) < HINTED_FAULTS)
        at_mm = cells.number("at_mm", 0, MOST_FRAME_MM)
        if name is not None and at_mm is not None:
            _check_at(cells, frames[name], at_mm)
        height_mm = _height(cells)
        faults.extend(cells.faults)
        if cells.faults or name is None or at_mm is None:
            continue
        if height_mm is None:
            blank.append(row.number)
        else:
            stations.append(Station(row.number, name, at_mm, height_mm))
    if table.rows and not stations and not faults:
        faults.append(Fault(path.name, "no row has a reading", column="staff_mm"))
    faults += _twice(path.name, stations)
    faults += _span(path.name, stations)
    if faults:
        raise InputError(sorted(faults, key=lambda fault: fault.row or 0))
    return Levels(_compared(stations), tuple(blank))


def _height(cells: Cells) -> float | None:
    staff = cells.number("staff_mm", _LEAST_MM, _MOST_MM, may_be_blank=True)
    height = cells.number("height_mm", _LEAST_MM, _MOST_MM, may_be_blank=True)
    if staff is not None and height is not None:
        cells.add("give staff_mm or height_mm, not both", "height_mm")
    # A staff stands on the slab and is read at one level line: more reading is lower slab.
    return height if staff is None else -staff


def _check_at(cells: Cells, frame: Frame, at_mm: float) -> None:
    if at_mm > frame.length_mm + _SLACK_MM:
        cells.add(f"{at_mm:.10g} lies past the end of a frame {frame.length_mm:.0f} mm long", "at_mm")


def _twice(file: str, stations: Sequence[Station]) -> list[Fault]:
    rows: defaultdict[tuple[str, float], list[int]] = defaultdict(list)
    for station in stations:
        rows[station.frame, station.at_mm].append(station.row)
    return [
        Fault(file, f"this station is in row {own[0]} too", row=again, column="at_mm", frame=frame)
        for (frame, _), own in rows.items()
        for again in own[1:]
    ]


def _span(file: str, stations: Sequence[Station]) -> list[Fault]:
    """Return a fault for each reading far from the middle one: another unit, or a slip."""
    if not stations:
        return []
    heights = sorted(station.height_mm for station in stations)
    usual = heights[len(heights) // 2]
    return [
        Fault(
            file,
            f"lies {abs(station.height_mm - usual):.0f} mm off the middle reading: is it in mm?",
            row=station.row,
            frame=station.frame,
        )
        for station in stations
        if abs(station.height_mm - usual) > _MOST_SPAN_MM
    ]


def _compared(stations: Sequence[Station]) -> tuple[Spot, ...]:
    if not stations:
        return ()
    mean = fmean(station.height_mm for station in stations)
    highest = max(station.height_mm for station in stations)
    return tuple(Spot(station, station.height_mm - mean, highest - station.height_mm) for station in stations)
