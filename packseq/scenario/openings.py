"""openings.csv: doors, windows and openings, and whether they fit their frames."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import cast

from packseq.errors import Fault
from packseq.scenario import limits
from packseq.scenario.cells import Cells
from packseq.scenario.files import OPENINGS
from packseq.scenario.frames import FrameRow
from packseq.scenario.model import Opening, OpeningKind
from packseq.scenario.names import KnownNames, label
from packseq.scenario.tables import Shape, Table

OPENINGS_SHAPE = Shape(
    file=OPENINGS,
    required=("frame", "kind", "from_mm", "width_mm", "sill_mm", "head_mm"),
    optional=(),
    names=("frame",),
    most_rows=limits.MOST_OPENINGS,
    may_be_empty=True,
)
_KINDS = ("door", "window", "opening")
_SLACK_MM = 0.5
"""Decimal coordinates may leave a frame this much shorter than its openings add up to."""


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """One row of openings.csv whose own cells are sound, with the frame it belongs to."""

    frame: str
    number: int
    opening: Opening

    def fault(self, text: str, column: str) -> Fault:
        """Return a fault of this row."""
        return Fault(OPENINGS, text, row=self.number, column=column, frame=self.frame)


def read_opening_rows(table: Table, names: KnownNames) -> tuple[tuple[OpeningRow, ...], tuple[Fault, ...]]:
    """Read openings.csv; returns the rows without fault, and whatever is wrong in the others."""
    rows: list[OpeningRow] = []
    faults: list[Fault] = list(table.faults)
    for row in table.rows:
        cells = Cells(OPENINGS, row, names.find(row.cells.get("frame", "")))
        frame = cells.known("frame", names, hint=len(faults) < limits.HINTED_FAULTS)
        kind = cells.choice("kind", _KINDS)
        from_mm = cells.number("from_mm", 0, limits.MOST_FRAME_MM)
        width_mm = cells.number("width_mm", limits.LEAST_OPENING_MM, limits.MOST_FRAME_MM)
        # A door reaches the floor, so its sill need not be given.
        floor = kind in {"door", None}
        sill_mm = cells.number("sill_mm", 0, limits.MOST_HEIGHT_MM, blank=0, may_be_blank=floor)
        head_mm = cells.number("head_mm", 1, limits.MOST_HEIGHT_MM)
        if kind == "door" and sill_mm:
            cells.add("a door has no sill; write 0, or call it a window or an opening", "sill_mm")
        if sill_mm is not None and head_mm is not None and head_mm <= sill_mm:
            cells.add(f"the head ({head_mm:.10g}) must be above the sill ({sill_mm:.10g})", "head_mm")
        faults.extend(cells.faults)
        if frame and kind and not cells.faults:
            values = (from_mm, width_mm, sill_mm, head_mm)
            numbers = [value for value in values if value is not None]
            if len(numbers) == len(values):
                rows.append(OpeningRow(frame, row.number, Opening(cast("OpeningKind", kind), *numbers)))
    return tuple(rows), tuple(faults)


def openings_by_frame(rows: Sequence[OpeningRow]) -> Mapping[str, tuple[OpeningRow, ...]]:
    """Return the openings of each frame that has any, from end 1 to end 2."""
    grouped: defaultdict[str, list[OpeningRow]] = defaultdict(list)
    for row in rows:
        grouped[row.frame].append(row)
    return {
        frame: tuple(sorted(group, key=lambda row: (row.opening.from_mm, row.number)))
        for frame, group in grouped.items()
    }


def fit_faults(frames: Sequence[FrameRow], openings: Mapping[str, Sequence[OpeningRow]]) -> Iterator[Fault]:
    """Tell which openings reach past their frame, or into one another along it.

    Openings one above the other share their studs and their lintel: they count as one opening
    and are refused as two.
    """
    for frame in frames:
        own = openings.get(label(frame.name), ())
        for row in own:
            opening = row.opening
            end_mm = opening.from_mm + opening.width_mm
            if frame.length_mm is not None and end_mm > frame.length_mm + _SLACK_MM:
                text = (
                    f"the opening ends {end_mm:.10g} mm along a frame that is {frame.length_mm:.0f} mm long"
                )
                yield row.fault(text, "width_mm")
            if frame.height_mm is not None and opening.head_mm > frame.height_mm:
                text = f"the head is at {opening.head_mm:.10g} mm in a frame {frame.height_mm:.10g} mm high"
                yield row.fault(text, "head_mm")
        for before, after in pairwise(own):
            shared_mm = before.opening.from_mm + before.opening.width_mm - after.opening.from_mm
            if shared_mm > _SLACK_MM:
                yield after.fault(
                    f"overlaps the opening in row {before.number} by {shared_mm:.0f} mm", "from_mm"
                )
