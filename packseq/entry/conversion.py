"""A scenario written anew in another form: other tables, a workbook, a walk round the house."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from packseq.entry.tables import scenario_grids
from packseq.entry.walkback import walk_back
from packseq.entry.workbook import workbook_bytes
from packseq.house.model import House
from packseq.scenario.files import SITE, TABLES, read_folder

Form = Literal["frames", "layout"]


@dataclass(frozen=True, slots=True)
class Conversion:
    """The files of a scenario in another form, and the frames that a layout places by coordinates."""

    files: Mapping[str, str | bytes]
    by_coordinates: tuple[str, ...]


def converted(folder: Path, house: House, form: Form, *, workbook: bool) -> Conversion:
    """Return a scenario with its tables written anew; site.toml stays as it is.

    Parameters
    ----------
    folder
        The scenario folder, for its site.toml.
    house
        The house read from it.
    form
        Whether frames are given by coordinates or walking round.
    workbook
        Whether the tables become sheets of tables.xlsx.

    Raises
    ------
    OutputError
        When the extra that writes workbooks is not installed.
    """
    first, *others = scenario_grids(house.scenario)
    by_coordinates: tuple[str, ...] = ()
    if form == "layout":
        walked = walk_back(house)
        first, by_coordinates = walked.grid, walked.by_coordinates
    grids = (first, *others)
    files: dict[str, str | bytes] = {SITE: read_folder(folder).text[SITE]}
    if workbook:
        files[TABLES] = workbook_bytes(grids)
    else:
        files |= {grid.file: grid.csv_text() for grid in grids}
    return Conversion(files, by_coordinates)
