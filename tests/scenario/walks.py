"""A small house entered walking round it, and ways of reading it."""

from __future__ import annotations

from pathlib import Path

from packseq.scenario.frames import FrameRow
from packseq.scenario.tables import read_table
from packseq.scenario.walkround.entered import read_layout
from packseq.scenario.walkround.rows import LAYOUT_SHAPE

COLUMNS = "frame,heading,length_mm,from,at_mm,end,to,through,gap_mm,x_mm,y_mm,height_mm,thickness_mm,level"
THREE_BEDROOM = Path(__file__).with_name("three_bedroom_layout.csv")

# 6000 x 4000 over the outside faces, 100 mm frames; south and north walls run through:
# the side walls are 4000 - 2 x 100 = 3800. N1 stands 2000 from the west end of E1, N2 between N1 and E2.
ROOMS = """\
frame,heading,length_mm,from,at_mm,to,through,height_mm,thickness_mm
E1,E,6000,,,,east-west,2400,100
E2,N,3800,,,,,,
E3,W,6000,,,,,,
E4,S,3800,,,,,,
N1,N,,E1,2000,E3,,,
N2,E,,N1,1500,E2,,,
"""


def read(text: str) -> tuple[dict[str, FrameRow], list[str]]:
    """Return the frames of a layout.csv by name, and its faults as lines."""
    rows, faults = read_layout(read_table(text, LAYOUT_SHAPE))
    return {row.name: row for row in rows}, [str(fault) for fault in faults]


def ends(text: str) -> dict[str, tuple[float, float, float, float]]:
    """Return x1, y1, x2, y2 of each frame of a sound layout.csv."""
    rows, faults = read(text)
    assert faults == []
    found = {}
    for name, row in rows.items():
        assert row.start is not None
        assert row.end is not None
        found[name] = (*row.start, *row.end)
    return found


def cells(*rows: str) -> str:
    """Return a layout.csv whose rows have every column of `COLUMNS`, blanks at their ends left out."""
    width = COLUMNS.count(",")
    return "\n".join([COLUMNS, *(row + "," * (width - row.count(",")) for row in rows)]) + "\n"
