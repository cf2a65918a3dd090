"""Setting out, and measuring what was made of it."""

from __future__ import annotations

from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, PageOut
from packseq.sitework.distances import LEAST_OFFSET_MM, MOST_OFFSET_MM, MOST_REACH_MM, OFFSET_MM, REACH_MM

Offset = Annotated[
    float,
    typer.Option(
        "--offset",
        metavar="MM",
        min=LEAST_OFFSET_MM,
        max=MOST_OFFSET_MM,
        help="How far a line lies off the face of the frame it is for.",
    ),
]


def setout(
    folder: Folder,
    *,
    offset_mm: Offset = OFFSET_MM,
    reach_mm: Annotated[
        float,
        typer.Option(
            "--reach",
            metavar="MM",
            min=0,
            max=MOST_REACH_MM,
            help="An internal wall shares a line that lies no further from its face than this.",
        ),
    ] = REACH_MM,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Work out the lines to mark on the slab, in order, and how to check them."""
    from packseq.cli.setting_out import show_set_out  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.setout import Choices  # noqa: PLC0415

    show_set_out(Choices(offset_mm, reach_mm), SheetOptions(folder, out, force=force, as_json=as_json))
