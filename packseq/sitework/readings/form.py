"""An empty file of readings for a house: every place worth checking."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packseq.geometry import whole_mm
from packseq.scenario.model import Frame
from packseq.sitework.forms import form_text
from packseq.sitework.readings.file import COLUMNS
from packseq.sitework.readings.tasks import Job, position_task
from packseq.sitework.slab.toread import STATION_MM
from packseq.sitework.walls import compass, sides_of, toward

GAUGE_MM = 25
"""The packer at both ends of a string in an empty form; write in the one used."""


def readings_form(job: Job) -> str:
    """Return an empty file of readings, in the order in which a house is straightened.

    Diagonals of the set-out, faces to their lines, plates to the string, levels, then plumb.
    """
    frames = list(job.house.scenario.frames.values())
    rows: list[dict[str, str]] = []
    for level, diagonals in sorted(job.diagonals.items()):
        for name, rectangle in diagonals.items():
            note = f"should be {rectangle.diagonal_mm:.0f}"
            rows.append({"check": "diagonal", "where": name, "level": str(level), "note": note})
    rows += [row for frame in frames for row in _positions(job, frame)]
    rows += [row for frame in frames for row in _lines(job, frame)]
    rows += [_at("level", frame, at_mm, "+ is too high") for frame in frames for at_mm in _ends(frame)]
    rows += [row for frame in frames for row in _plumbs(job, frame)]
    return form_text(tuple(COLUMNS), [[row.get(column, "") for column in COLUMNS] for row in rows])


def _at(check: str, frame: Frame, at_mm: int, note: str) -> dict[str, str]:
    return {"check": check, "where": frame.name, "at_mm": str(at_mm), "note": note}


def _ends(frame: Frame) -> tuple[int, int]:
    return 0, whole_mm(frame.length_mm)


def _positions(job: Job, frame: Frame) -> Iterator[dict[str, str]]:
    for at_mm in _ends(frame):
        task = position_task(job, frame, at_mm)
        if task is not None:
            yield _at("position", frame, at_mm, f"should be {task.expected_mm:.0f}")


def _lines(job: Job, frame: Frame) -> Iterator[dict[str, str]]:
    side = sides_of(job.walls[frame.name])[0]
    way = compass(toward(job.walls[frame.name], frame, side))
    parts = max(1, math.ceil(frame.length_mm / STATION_MM))
    for part in range(parts + 1):
        row = _at("line", frame, whole_mm(frame.length_mm * part / parts), f"string on its {way}")
        yield row | {"gauge_mm": str(GAUGE_MM), "side": side}


def _plumbs(job: Job, frame: Frame) -> Iterator[dict[str, str]]:
    side = sides_of(job.walls[frame.name])[0]
    way = compass(toward(job.walls[frame.name], frame, side))
    for at_mm in _ends(frame):
        yield _at("plumb", frame, at_mm, f"+ is top {way}") | {"side": side}
    along = compass((frame.end[0] - frame.start[0], frame.end[1] - frame.start[1]))
    yield _at("plumb-along", frame, 0, f"+ is top {along}")
