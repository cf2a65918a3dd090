"""The file of readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import cast

from packseq.errors import Fault, InputError
from packseq.scenario.cells import Cells
from packseq.scenario.files import read_text
from packseq.scenario.limits import COORDINATE_MM, HINTED_FAULTS, MOST_FRAME_MM, MOST_HEIGHT_MM
from packseq.scenario.model import Frame
from packseq.scenario.names import KnownNames
from packseq.scenario.tables import Shape, read_table
from packseq.sitework.readings.model import Reading, Readings, Task
from packseq.sitework.readings.tasks import (
    Job,
    diagonal_task,
    level_task,
    line_task,
    plumb_along_task,
    plumb_task,
    position_task,
)
from packseq.sitework.readings.tolerances import CHECKS, Check
from packseq.sitework.units import suspected_unit
from packseq.sitework.walls import sides_of

COLUMNS: Mapping[str, str] = {
    "check": f"what is checked: {', '.join(CHECKS)}",
    "where": "the frame; for a diagonal its two crossings, such as 1/2-4/3",
    "at_mm": "how far along the frame from its end 1; blank for a diagonal",
    "reading_mm": (
        "line: the gap to the string. plumb: how far the top leans toward the side. plumb-along: how far it "
        "leans toward end 2. level: how much too high. position: from the frame's nearer face to its line. "
        "Blank: not measured"
    ),
    "gauge_mm": "line only: the packer at both ends of the string",
    "height_mm": "plumb only: over which height; the frame's own if blank",
    "side": (
        "line: where the string is; plumb: where a positive reading leans to. outside or inside for an "
        "external frame, left or right (from end 1 to end 2) for an internal one; outside, or left, if blank"
    ),
    "level": "for a diagonal, the level of the house; the lowest if blank",
    "note": "anything; not read",
}
MOST_ROWS = 20_000

_MOST_GAUGE_MM, _LEAST_HEIGHT_MM = 500.0, 200.0
_FAR_MM: Mapping[Check, float] = {
    "line": 150.0,
    "plumb": 200.0,
    "plumb-along": 200.0,
    "level": 200.0,
    "position": 250.0,
    "diagonal": 250.0,
}
"""A reading further off than this is a slip of the finger or in another unit: from no standard."""

_METRES_MM = 30.0
"""A station nearer to the end than this, but not at it, is one told in metres."""

_SLACK_MM = 0.5


def read_readings(path: Path, job: Job) -> Readings:
    """Read a file of readings for a house.

    Raises
    ------
    InputError
        With every fault: of the file's form, its names and numbers, stations past the end of a frame, cells
        that do not belong to a check, values in another unit, one place given twice.
    """
    shape = Shape(
        path.name,
        ("check", "where", "reading_mm"),
        ("at_mm", "gauge_mm", "height_mm", "side", "level", "note"),
        ("where",),
        MOST_ROWS,
    )
    table = read_table(read_text(path), shape)
    names = KnownNames.of("frame", job.house.scenario.frames, complete=True)
    faults = list(table.faults)
    readings: list[Reading] = []
    blank: list[tuple[int, str]] = []
    for row in table.rows:
        cells = Cells(path.name, row, names.find(row.cells.get("where", "")))
        task = _task(cells, job, names, hint=len(faults) < HINTED_FAULTS)
        reading_mm = cells.number("reading_mm", -COORDINATE_MM, COORDINATE_MM, may_be_blank=True)
        if task is not None and reading_mm is not None and not cells.faults:
            _doubt(cells, task, reading_mm)
        faults.extend(cells.faults)
        if cells.faults or task is None:
            continue
        if reading_mm is None:
            blank.append((row.number, f"{task.check} of {task.where}"))
        else:
            readings.append(Reading(row.number, task, reading_mm))
    if table.rows and not readings and not faults:
        faults.append(Fault(path.name, "no row has a reading", column="reading_mm"))
    faults += _twice(path.name, readings)
    if faults:
        raise InputError(sorted(faults, key=lambda fault: fault.row or 0))
    return Readings(tuple(readings), tuple(blank))


def _task(cells: Cells, job: Job, names: KnownNames, *, hint: bool) -> Task | None:
    check = cast("Check | None", cells.choice("check", CHECKS))
    if check is None:
        return None
    for column, checks in _BELONGS.items():
        if cells.row.cells.get(column) and check not in checks:
            cells.add(f"does not belong to a {check} check", column)
    if check == "diagonal":
        return _diagonal(cells, job)
    name = cells.known("where", names, hint=hint)
    at_mm = cells.number("at_mm", 0, MOST_FRAME_MM)
    if name is None:
        return None
    frame = job.house.scenario.frames[name]
    side = _side(cells, job, frame)
    gauge_mm = cells.number("gauge_mm", 0, _MOST_GAUGE_MM) if check == "line" else 0.0
    height_mm = cells.number(
        "height_mm", _LEAST_HEIGHT_MM, MOST_HEIGHT_MM, blank=frame.height_mm, may_be_blank=True
    )
    if "at_mm" not in cells.row.cells:
        cells.add("the column is needed for this check", "at_mm")
    if at_mm is None or side is None or gauge_mm is None or height_mm is None:
        if check == "line" and "gauge_mm" not in cells.row.cells:
            cells.add("the column is needed for a line check", "gauge_mm")
        return None
    _check_at(cells, frame, at_mm)
    return _frame_task(check, job, frame, at_mm, gauge_mm=gauge_mm, height_mm=height_mm, side=side)


_BELONGS: Mapping[str, frozenset[Check]] = {
    "gauge_mm": frozenset({"line"}),
    "height_mm": frozenset({"plumb", "plumb-along"}),
    "side": frozenset({"line", "plumb"}),
    "level": frozenset({"diagonal"}),
    "at_mm": frozenset(CHECKS) - {"diagonal"},
}
"""Columns that belong to some checks only."""


def _frame_task(
    check: Check, job: Job, frame: Frame, at_mm: float, *, gauge_mm: float, height_mm: float, side: str
) -> Task | None:
    match check:
        case "line":
            return line_task(job, frame, at_mm, gauge_mm, side)
        case "plumb":
            return plumb_task(job, frame, at_mm, height_mm, side)
        case "plumb-along":
            return plumb_along_task(frame, at_mm, height_mm)
        case "level":
            return level_task(job, frame, at_mm)
        case _:
            return position_task(job, frame, at_mm)


def _diagonal(cells: Cells, job: Job) -> Task | None:
    levels = sorted(job.diagonals)
    level = cells.whole("level", levels[0], levels[-1], blank=levels[0], may_be_blank=True)
    if level is None:
        return None
    known = KnownNames.of("diagonal", job.diagonals[level], complete=True)
    cell = cells.row.cells.get("where", "")
    wanted = cell.replace(" ", "").replace("to", "-")
    turned = "-".join(reversed(wanted.split("-")))
    name = known.find(wanted) or known.find(turned)
    if name is None:
        cells.add(known.fault(cell) or "the diagonal is not given", "where")
        return None
    return diagonal_task(job, level, name)


def _side(cells: Cells, job: Job, frame: Frame) -> str | None:
    choices = sides_of(job.walls[frame.name])
    if not cells.row.cells.get("side"):
        return choices[0]
    return cells.choice("side", choices)


def _check_at(cells: Cells, frame: Frame, at_mm: float) -> None:
    if at_mm > frame.length_mm + _SLACK_MM:
        cells.add(f"{at_mm:.10g} lies past the end of a frame {frame.length_mm:.0f} mm long", "at_mm")
    elif 0 < at_mm < _METRES_MM:
        cells.add(f"{at_mm:.10g} mm from the end of the frame: is it in metres?", "at_mm")


def _doubt(cells: Cells, task: Task, reading_mm: float) -> None:
    """Add a fault for a reading that is no reading of this check in mm."""
    off_mm = abs(reading_mm - task.expected_mm)
    unit = suspected_unit(reading_mm, task.expected_mm) if task.expected_mm else None
    if off_mm > _FAR_MM[task.check]:
        hint = f"is it in {unit}?" if unit else "is it in mm, and of this place?"
        expected = f", expected {task.expected_mm:.0f} mm" if task.expected_mm else ""
        cells.add(f"{reading_mm:.10g} mm{expected}: {hint}", "reading_mm")
    elif unit is not None and reading_mm != task.expected_mm:
        cells.add(f"{reading_mm:.10g} mm, expected {task.expected_mm:.0f} mm: is it in {unit}?", "reading_mm")


def _twice(file: str, readings: Sequence[Reading]) -> list[Fault]:
    first: dict[tuple[str, int, str, float | None, str], int] = {}
    faults = []
    for each in readings:
        task = each.task
        # What to do tells the side that a reading is for.
        key = (task.check, task.level, task.where, task.at_mm, task.if_more)
        if key in first:
            text = f"is read in row {first[key]} too; keep the one that holds"
            faults.append(Fault(file, text, row=each.row, column="where"))
        first.setdefault(key, each.row)
    return faults
