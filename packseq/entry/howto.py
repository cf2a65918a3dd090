"""What lies in a new folder beside the tables: how to fill them in."""

from __future__ import annotations

HOW_TO = "HOW-TO.md"
_WALK = """\
## {house}: the frames, walking round the house

Stand at a corner of the plan. Follow the outside walls frame by frame, then do the inside walls.
North is the top of the sheet. One row a frame:

| frame | heading | length_mm | from | at_mm | to | through | height_mm | thickness_mm |
|---|---|---|---|---|---|---|---|---|
| E1 | E | 6000 | | | | east-west | 2400 | 90 |
| E2 | N | 3820 | | | | | | |
| E3 | W | 6000 | | | | | | |
| E4 | S | 3820 | | | | | | |
| N1 | N | | E1 | 2000 | E3 | | | |

- `heading`: N, E, S or W; L or R for a turn; blank for straight on.
- `length_mm`: of the bottom plate, as on the frame's tag.
- `through`: which walls run through at the corners. It holds for the rows below, and so do
  `height_mm` and `thickness_mm`.
- N1 stands off E1, 2000 mm from its left end to the near face as you look along N1, and reaches to E3.
"""
_COORDINATES = """\
## {house}: the frames by coordinates

One row a frame: the two ends of the bottom plate's centre line, x east and y north.
"""
_REST = """\
## {openings}

Doors, windows and openings: `from_mm` runs from the frame's beginning to the near side, `sill_mm` and
`head_mm` from the underside of the bottom plate.

## {packs}

Which frame lies in which layer of which pack, layer 1 on top, as the packs come off the truck.

## site.toml

The slab, the crew, where the packs land. Its comments tell the rest.

## Then

    packseq check FOLDER
    packseq draw FOLDER --out plan.svg
    packseq plan FOLDER --out plan.json
"""


def how_to(*, by_coordinates: bool, in_workbook: bool) -> str:
    """Return how to fill in the tables of a new job."""
    house = "frames" if by_coordinates else "layout"
    names = {
        key: f"Sheet {name} of tables.xlsx" if in_workbook else f"{name}.csv"
        for key, name in (("house", house), ("openings", "openings"), ("packs", "packs"))
    }
    start = "# How to fill in this folder\n\n"
    return (start + (_COORDINATES if by_coordinates else _WALK) + "\n" + _REST).format(**names)
