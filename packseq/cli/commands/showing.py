"""Drawings, and the pages that the crew follows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, PlanFile


def draw(
    folder: Folder,
    *,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FILE", help="Write the drawing here, such as plan.svg."),
    ] = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Draw what was entered, to scale.

    So that a mistake is seen before planning. Shows a sketch in the terminal. With several levels
    --out plan.svg writes plan-level-1.svg and so on.
    """
    from packseq.cli.drawing import draw_scenario  # noqa: PLC0415

    draw_scenario(folder, out, force=force, as_json=as_json)


def page(
    folder: Folder,
    plan_file: PlanFile,
    *,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Write the page here, such as crew.html.")
    ] = None,
    svg: Annotated[
        Path | None,
        typer.Option("--svg", metavar="FILE", help="Write the floor plan by itself, such as plan.svg."),
    ] = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Make the page that the crew follows.

    One file, for a phone, a computer or a printer.
    """
    from packseq.cli.paging import PageJob, show_page  # noqa: PLC0415

    if out is None and svg is None and not as_json:
        raise typer.BadParameter("say --out, --svg or --json", param_hint="--out")
    show_page(PageJob(folder, plan_file, out, svg, force), as_json=as_json)
