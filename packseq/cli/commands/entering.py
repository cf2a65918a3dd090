"""Getting a house in."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from packseq.cli.options import AsJson, Folder, Force
from packseq.cli.ranges import between


def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The folder to make.")],
    *,
    name: Annotated[str | None, typer.Option("--name", help="What the job is called.")] = None,
    slab: Annotated[
        str | None,
        typer.Option("--slab", metavar="LENGTHxWIDTH", help="The slab in mm, such as 15000x8400."),
    ] = None,
    people: Annotated[
        int | None, typer.Option("--people", min=1, max=100, help="How many people stand frames.")
    ] = None,
    packs: Annotated[
        int | None, typer.Option("--packs", min=1, max=100, help="In how many packs the frames come.")
    ] = None,
    coordinates: Annotated[
        bool, typer.Option("--coordinates", help="Frames by coordinates, not walking round.")
    ] = False,
    workbook: Annotated[
        bool, typer.Option("--workbook", help="One workbook, tables.xlsx, in place of the CSV files.")
    ] = False,
    ask: Annotated[
        bool | None,
        typer.Option("--ask/--no-ask", help="Ask what was not said; else it takes a default."),
    ] = None,
    force: Force = False,
) -> None:
    """Write a folder for a new job, to be filled in.

    Asks what was not said when there is a terminal to answer from.
    """
    from packseq.cli.starting import Answers, Form, new_scenario  # noqa: PLC0415

    new_scenario(
        folder,
        Answers(name, slab, people, packs),
        Form(by_coordinates=coordinates, workbook=workbook),
        ask=sys.stdin.isatty() if ask is None else ask,
        force=force,
    )


def import_(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A building model, IFC2x3 or IFC4.")],
    *,
    out: Annotated[Path, typer.Option("--out", metavar="FOLDER", help="The scenario folder to make.")],
    storey: Annotated[
        str | None, typer.Option("--storey", metavar="NAME", help="The storey, where there are several.")
    ] = None,
    most_mm: Annotated[
        float,
        typer.Option(
            "--max-frame-mm",
            metavar="MM",
            callback=between(1000, 20_000),
            help="Walls longer than this are cut into frames.",
        ),
    ] = 4800,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Make a scenario of the walls of a building model (IFC).

    It tells what became of each wall. What a model does not say, such as packs and crew, gets a plain
    default, which is told.
    """
    from packseq.cli.importing import import_model  # noqa: PLC0415

    import_model(file, out, storey, most_mm, force=force, as_json=as_json)


def convert(
    folder: Folder,
    *,
    out: Annotated[
        Path,
        typer.Option("--out", metavar="PATH", help="A folder for the tables, or a file such as tables.xlsx."),
    ],
    form: Annotated[
        Literal["frames", "layout"],
        typer.Option("--to", help="Frames by coordinates, or a walk round the house."),
    ] = "frames",
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Write a scenario as coordinates, a walk round, or a workbook."""
    from packseq.cli.converting import convert_scenario  # noqa: PLC0415

    convert_scenario(folder, out, form, force=force, as_json=as_json)
