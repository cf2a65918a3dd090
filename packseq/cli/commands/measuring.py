"""Setting out, and measuring what was made of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from packseq.cli.options import AsJson, Folder, Force, PageOut
from packseq.cli.ranges import between
from packseq.sitework.usual import (
    LEAST_OFFSET_MM,
    LEVEL_MM,
    MOST_OFFSET_MM,
    MOST_REACH_MM,
    MOST_WITHIN_MM,
    OFFSET_MM,
    REACH_MM,
    TOLERANCES,
    WITHIN_MM,
)

Offset = Annotated[
    float,
    typer.Option(
        "--offset",
        metavar="MM",
        callback=between(LEAST_OFFSET_MM, MOST_OFFSET_MM),
        help="How far a line lies off the face of the frame it is for.",
    ),
]

Measured = Annotated[
    Path | None, typer.Option("--measured", metavar="FILE.csv", help="What was measured; see --form.")
]
Form = Annotated[
    Path | None,
    typer.Option("--form", metavar="FILE.csv", help="Write an empty file to fill in, made for this house."),
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
            callback=between(0, MOST_REACH_MM),
            help="An internal wall shares a line that lies no further from its face than this.",
        ),
    ] = REACH_MM,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Work out the lines to mark on the slab, in order.

    And how to check them.
    """
    from packseq.cli.setting_out import show_set_out  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.sitework.setout import Choices  # noqa: PLC0415

    show_set_out(Choices(offset_mm, reach_mm), SheetOptions(folder, out, force=force, as_json=as_json))


def slab(
    folder: Folder,
    *,
    measured: Measured = None,
    levels: Annotated[
        Path | None,
        typer.Option("--levels", metavar="FILE.csv", help="Level readings along the plate lines."),
    ] = None,
    form: Form = None,
    level_form: Annotated[
        Path | None,
        typer.Option("--level-form", metavar="FILE.csv", help="Write an empty file of level readings."),
    ] = None,
    offset_mm: Offset = OFFSET_MM,
    within_mm: Annotated[
        float,
        typer.Option(
            "--within",
            metavar="MM",
            callback=between(0, MOST_WITHIN_MM),
            help="How far a face may come from where it is drawn to the slab edge and count as drawn.",
        ),
    ] = WITHIN_MM,
    level_mm: Annotated[
        float,
        typer.Option(
            "--level-within",
            metavar="MM",
            callback=between(0, MOST_WITHIN_MM),
            help="How far off the mean a station may lie and count as level.",
        ),
    ] = LEVEL_MM,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Work out the slab from measured sides and diagonals.

    And fit the frames on it.

    Without measured values: what to measure, and what the files hold.
    """
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415
    from packseq.cli.slab_checking import show_slab  # noqa: PLC0415
    from packseq.sitework.slab.build import SlabFiles  # noqa: PLC0415
    from packseq.sitework.slab.edgewords import EdgeChoices  # noqa: PLC0415

    show_slab(
        SlabFiles(measured, levels),
        EdgeChoices(offset_mm, within_mm, level_mm),
        SheetOptions(folder, out, force=force, as_json=as_json),
        form=form,
        level_form=level_form,
    )


def readings(
    folder: Folder,
    *,
    measured: Measured = None,
    tolerances: Annotated[
        str,
        typer.Option(
            "--tolerances", metavar="NAME|FILE.toml", help="A published set of limits, or one of your own."
        ),
    ] = TOLERANCES,
    form: Form = None,
    offset_mm: Offset = OFFSET_MM,
    out: PageOut = None,
    force: Force = False,
    as_json: AsJson = False,
) -> None:
    """Hold measured values against limits.

    What to fix and what to measure again, the worst first.

    Without measured values: what the file holds, and which limits there are.
    """
    from packseq.cli.reading import show_readings  # noqa: PLC0415
    from packseq.cli.sheets import SheetOptions  # noqa: PLC0415

    options = SheetOptions(folder, out, force=force, as_json=as_json)
    show_readings(measured, tolerances, offset_mm, options, form=form)
