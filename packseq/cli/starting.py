"""``packseq new``."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import typer

from packseq.cli.streams import write_report
from packseq.cli.writing import refuse_folder_early
from packseq.entry.howto import HOW_TO, how_to
from packseq.entry.starter import Start, blank_grids, packs_along_south, rectangle_outline, site_text
from packseq.entry.workbook import workbook_bytes
from packseq.files import write_folder
from packseq.report.layout import listing
from packseq.scenario.files import SITE, TABLES
from packseq.scenario.limits import MOST_PACKS, TITLE_LENGTH
from packseq.scenario.names import name_fault

MOST_PEOPLE = 100
_SIZE = re.compile(r"\s*([0-9]{3,6})\s*(?:x|by)\s*([0-9]{3,6})\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Answers:
    """What a new job begins with, as far as it was said; None is still to be asked, or takes a default.

    `slab` is west to east by south to north in mm, such as 15000x8400.
    """

    name: str | None = None
    slab: str | None = None
    people: int | None = None
    packs: int | None = None


@dataclass(frozen=True, slots=True)
class Form:
    """Which tables the folder gets: frames walking round or by coordinates, as CSV or in a workbook."""

    by_coordinates: bool = False
    workbook: bool = False


def slab_size(text: str) -> tuple[float, float]:
    """Read a slab's size such as 15000x8400: mm from west to east and from south to north.

    Raises
    ------
    typer.BadParameter
        When it is none.
    """
    found = _SIZE.fullmatch(text)
    if found is None:
        raise typer.BadParameter("write west to east by south to north in mm, such as 15000x8400")
    return float(found[1]), float(found[2])


def job_name(text: str) -> str:
    """Read the name of a job.

    Raises
    ------
    typer.BadParameter
        When it is no name.
    """
    wrong = name_fault(text.strip(), TITLE_LENGTH)
    if wrong is not None:
        raise typer.BadParameter(wrong)
    return text.strip()


def new_scenario(folder: Path, answers: Answers, form: Form, *, ask: bool, force: bool) -> None:
    """Write a folder to fill in; what was not said is asked, or takes a default.

    Raises
    ------
    OutputError
        When the folder is kept or cannot be written, or a workbook cannot be made.
    """
    grids = blank_grids(by_coordinates=form.by_coordinates)
    names = [SITE, HOW_TO, *([TABLES] if form.workbook else [grid.file for grid in grids])]
    refuse_folder_early(folder, names, force=force)

    def answer(said: str | None, question: str, default: str, read: Callable[[str], str]) -> str:
        if said is not None:
            return read(said)
        return str(typer.prompt(question, default=default, value_proc=read)) if ask else default

    name = answer(answers.name, "What is the job called?", _folder_name(folder), job_name)
    slab_asked = "How big is the slab, west to east by south to north, in mm?"
    slab = answer(answers.slab, slab_asked, "12000x8000", _slab)
    people = int(answer(_text(answers.people), "How many people stand frames?", "4", _count(MOST_PEOPLE)))
    count = int(
        answer(_text(answers.packs), "In how many packs do the frames come?", "3", _count(MOST_PACKS))
    )
    outline = rectangle_outline(*slab_size(slab))
    packs = packs_along_south(outline, count)
    files: dict[str, str | bytes] = {
        SITE: site_text(Start(name, outline, people, packs)),
        HOW_TO: how_to(by_coordinates=form.by_coordinates, in_workbook=form.workbook),
    }
    if form.workbook:
        files[TABLES] = workbook_bytes(grids)
    else:
        files |= {grid.file: grid.csv_text() for grid in grids}
    write_folder(folder, files, force=force)
    landed = f"landed along its south side: {', '.join(pack.name for pack in packs)}"
    lines = (
        f"{folder} is ready to be filled in: {', '.join(names)}.",
        f"{name}: slab {slab} mm, {people} people; {landed}. Change site.toml where that is not so.",
        f"{HOW_TO} tells how to fill in the tables. Then: packseq check {folder}",
    )
    write_report([listing(lines)])


def _slab(text: str) -> str:
    slab_size(text)
    return text.strip()


def _folder_name(folder: Path) -> str:
    name = folder.resolve().name[:TITLE_LENGTH].strip()
    return name if name_fault(name, TITLE_LENGTH) is None else "new job"


def _count(most: int) -> Callable[[str], str]:
    def read(text: str) -> str:
        if not text.strip().isdecimal() or not 1 <= int(text) <= most:
            raise typer.BadParameter(f"must be a whole number from 1 to {most}")
        return text.strip()

    return read


def _text(number: int | None) -> str | None:
    return None if number is None else str(number)
