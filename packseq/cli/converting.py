"""``packseq convert``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.choices import read_house
from packseq.cli.streams import write_aside, write_json, write_report
from packseq.cli.writing import refuse_early, refuse_folder_early
from packseq.entry.conversion import Form, converted
from packseq.entry.extent import extents
from packseq.errors import OutputError
from packseq.files import write_folder, write_whole
from packseq.report.layout import listing
from packseq.scenario.files import TABLES

WORKBOOK_ENDING = ".xlsx"


def convert_scenario(folder: Path, out: Path, form: Form, *, force: bool, as_json: bool) -> None:
    """Write a scenario anew: as a folder of tables, or its tables as one workbook.

    Raises
    ------
    InputError
        With every fault of the scenario.
    OutputError
        When something is kept or cannot be written, or a workbook cannot be made.
    """
    house = read_house(folder)
    workbook = out.suffix.lower() == WORKBOOK_ENDING
    made = converted(folder, house, form, workbook=workbook)
    if workbook:
        refuse_early(out, folder, force=force)
        write_whole(out, made.files[TABLES], force=force)
    else:
        if out.resolve() == folder.resolve():
            raise OutputError(f"{out}: is the scenario itself; name another folder")
        refuse_folder_early(out, tuple(made.files), force=force)
        write_folder(out, made.files, force=force)
    sizes = tuple(str(extent) for extent in extents(house))
    if as_json:
        write_json(
            {
                "scenario": house.scenario.name,
                "form": form,
                "frames": len(house.scenario.frames),
                "by_coordinates": list(made.by_coordinates),
                "extents": list(sizes),
            }
        )
    else:
        walked = (
            (f"Placed by coordinates, as no other way was found: {', '.join(made.by_coordinates)}.",)
            if made.by_coordinates
            else ()
        )
        write_report([listing((*sizes, *walked))])
    write_aside([f"{len(house.scenario.frames)} frames are written to {out}"])
