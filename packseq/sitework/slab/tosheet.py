"""What to measure on a slab, as a sheet to fill in and as files to fill in."""

from __future__ import annotations

import math

from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Words
from packseq.sitework.forms import columns_table, form_text
from packseq.sitework.measuring import FIGURES_OF_THE_FILES, MEASURED, WHO_DECIDES
from packseq.sitework.slab import levels, tapes
from packseq.sitework.slab.build import Base
from packseq.sitework.slab.toread import pairs_to_measure, stations
from packseq.sitework.slabedges import corners_at, said_corners

_HOW = (
    "Measure every pair below, corner to corner, to the millimetre. Measure each again from its other end: "
    "two readings of each are what shows a misread one. Write them in a file and give it with --measured; "
    "--form writes an empty one. What cannot be measured is left blank."
)
_LEVELS = (
    "Set up one laser or level line over the slab. At each station stand the staff where the plate will lie, "
    "and write what it reads. Give the file with --levels; --level-form writes an empty one, every station "
    "in it."
)


def to_measure_sheet(house: House, base: Base) -> Sheet:
    """Return what to measure on a slab, with boxes to fill in."""
    slab = house.scenario.slab
    at = corners_at(slab)
    rows = [
        (first, second, f"{math.dist(at[first], at[second]):.0f}", "", "")
        for first, second in pairs_to_measure(slab, base.corners)
    ]
    pairs = Table(
        (
            Column("from"),
            Column("to"),
            Column("drawn mm", number=True),
            Column("there mm", to_fill_in=True),
            Column("and back mm", to_fill_in=True),
        ),
        tuple(rows),
    )
    return Sheet(
        "Slab check: what to measure",
        house.scenario.name,
        (WHO_DECIDES, FIGURES_OF_THE_FILES, MEASURED),
        (
            Section("Corners", (Words((f"By x and y in mm, as drawn: {said_corners(slab)}.",)),)),
            Section(
                "Sides and diagonals",
                (Words((_HOW,)), pairs, columns_table(tapes.COLUMNS, "Columns of the file of distances")),
            ),
            Section(
                "Levels along the plate lines",
                (
                    Words((_LEVELS,)),
                    columns_table(levels.COLUMNS, "Columns of the file of levels"),
                    _levels_to_fill_in(house),
                ),
            ),
        ),
    )


_ABREAST = 4
"""Stations side by side in one row of the sheet."""


def _levels_to_fill_in(house: House) -> Table:
    """Return a row for each frame, its stations side by side; more rows for one with many."""
    places: dict[str, list[int]] = {}
    for frame, at_mm in stations(house, house.levels[0].level):
        places.setdefault(frame, []).append(at_mm)
    most = min(max(map(len, places.values())), _ABREAST)
    rows = []
    for frame, every in places.items():
        for first in range(0, len(every), most):
            own = every[first : first + most]
            cells = [cell for at_mm in own for cell in (str(at_mm), "")]
            rows.append((frame, *cells, *("-" for _ in range(2 * (most - len(own))))))
    columns = (Column("at mm", number=True), Column("staff mm", to_fill_in=True)) * most
    return Table((Column("frame"), *columns), tuple(rows))


def tapes_form(house: House, base: Base) -> str:
    """Return an empty file of distances for a house: every pair there and back."""
    at = corners_at(house.scenario.slab)
    pairs = pairs_to_measure(house.scenario.slab, base.corners)
    rows = [
        (*ends, "", "", f"drawn {math.dist(at[first], at[second]):.0f}")
        for first, second in pairs
        for ends in ((first, second), (second, first))
    ]
    return form_text(tuple(tapes.COLUMNS), rows)


def levels_form(house: House) -> str:
    """Return an empty file of level readings for a house: every station of the lowest level."""
    rows = [(frame, str(at_mm), "", "") for frame, at_mm in stations(house, house.levels[0].level)]
    return form_text(("frame", "at_mm", "staff_mm", "note"), rows)
