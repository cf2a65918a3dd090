"""Setting out, and measuring what was made of it."""

from __future__ import annotations

from packseq.cli.options import AsJson, Folder, Force, PageOut
from packseq.cli.siteoptions import (
    Form,
    LevelForm,
    Levels,
    LevelWithin,
    Measured,
    Offset,
    ShareWithin,
    Tolerances,
    Within,
)
from packseq.sitework.usual import LEVEL_MM, OFFSET_MM, REACH_MM, TOLERANCES, WITHIN_MM


def setout(
    folder: Folder,
    *,
    offset_mm: Offset = OFFSET_MM,
    reach_mm: ShareWithin = REACH_MM,
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
    levels: Levels = None,
    form: Form = None,
    level_form: LevelForm = None,
    offset_mm: Offset = OFFSET_MM,
    within_mm: Within = WITHIN_MM,
    level_mm: LevelWithin = LEVEL_MM,
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
    tolerances: Tolerances = TOLERANCES,
    form: Form = None,
    offset_mm: Offset = OFFSET_MM,
    reach_mm: ShareWithin = REACH_MM,
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
    from packseq.sitework.setout import Choices  # noqa: PLC0415

    options = SheetOptions(folder, out, force=force, as_json=as_json)
    show_readings(measured, tolerances, Choices(offset_mm, reach_mm), options, form=form)
