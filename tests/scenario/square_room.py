"""A tiny sound scenario, and a way of writing it with something changed."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

Changes = Mapping[str, str | bytes | None]

SITE = """\
format = 1
name = "square room"

[slab]
outline_mm = [[0, 0], [3000, 0], [3000, 3000], [0, 3000]]

[stand]
hold_open = 0

[crew]
people = 4

[[pack]]
name = "A"
at_mm = [1500, -3000]

[[pack]]
name = "B"
at_mm = [-3000, 1500]
bearing_deg = 90

[[spot]]
name = "S1"
at_mm = [1500, 1500]
size_mm = [3000, 2700]
kind = "pile"
holds = 2
"""
# A square of four 90 mm frames, 3000 mm over all; the south frame has a door, the north one a window.
FRAMES = """\
frame,level,x1_mm,y1_mm,x2_mm,y2_mm,height_mm,thickness_mm,location,mass_kg
South,1,0,45,3000,45,2400,90,external,60
East,1,2955,90,2955,2910,2410,90,external,55.5
North,1,3000,2955,0,2955,2400,90,external,62
West,1,45,2910,45,90,2400,90,external,54
"""
OPENINGS = """\
frame,kind,from_mm,width_mm,sill_mm,head_mm
South,door,300,860,0,2030
North,window,900,1200,1000,2030
"""
PACKS = """\
pack,layer,frame
A,1,North
A,2,South
B,1,West
B,2,East
"""


SOUND_FILES: Mapping[str, str] = {
    "site.toml": SITE,
    "frames.csv": FRAMES,
    "openings.csv": OPENINGS,
    "packs.csv": PACKS,
}


def write_scenario(parent: Path, changed: Changes | None = None) -> Path:
    """Write the sound scenario, with files replaced (or left out, by None), and return its new folder."""
    folder = parent / f"job {len(list(parent.iterdir()))}"
    folder.mkdir()
    for name, content in {**SOUND_FILES, **(changed or {})}.items():
        if content is not None:
            (folder / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder
