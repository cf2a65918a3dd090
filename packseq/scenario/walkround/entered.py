"""layout.csv as the frames it describes."""

from __future__ import annotations

from packseq.errors import Fault
from packseq.scenario.frames import FrameRow
from packseq.scenario.names import label
from packseq.scenario.tables import Table
from packseq.scenario.walkround.closing import closing_faults
from packseq.scenario.walkround.rows import LayoutRow, read_layout_rows
from packseq.scenario.walkround.trace import Trace, trace


def read_layout(table: Table) -> tuple[tuple[FrameRow, ...], tuple[Fault, ...]]:
    """Read layout.csv: its frames as frames.csv would have them, with every fault found.

    The frames are placed, and the way round must close.
    """
    rows, faults = read_layout_rows(table)
    traced = trace(rows)
    frames = tuple(_frame_row(row, traced) for row in rows)
    return frames, (*faults, *traced.faults, *closing_faults(traced))


def _frame_row(row: LayoutRow, traced: Trace) -> FrameRow:
    bar = traced.bars.get(label(row.name))
    return FrameRow(
        name=row.name,
        number=row.number,
        level=row.level,
        start=None if bar is None else bar.start,
        end=None if bar is None else bar.finish,
        height_mm=row.height_mm,
        thickness_mm=row.thickness_mm,
        location=row.location,
        mass_kg=row.mass_kg,
    )
