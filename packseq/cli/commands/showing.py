"""Drawings, and the pages that the crew follows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force


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
    """Draw what was entered, to scale, so that a mistake is seen before planning.

    Shows a sketch in the terminal. With several levels --out plan.svg writes plan-level-1.svg and so on.
    """
    from packseq.cli.drawing import draw_scenario  # noqa: PLC0415

    draw_scenario(folder, out, force=force, as_json=as_json)
