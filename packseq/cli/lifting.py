"""``packseq lifts``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.choices import read_house
from packseq.cli.sheets import SheetOptions, show_sheet
from packseq.sitework.lifts.choices import LiftChoices
from packseq.sitework.lifts.lifting import lifting_document, lifting_sheet, study_lifting


def show_lifting(
    options: SheetOptions, choices: LiftChoices, plan_file: Path | None, gust_m_per_s: float | None
) -> None:
    """Show the sheet about lifting and wind.

    Raises
    ------
    InputError
        With every fault of the scenario, and of the plan file if one is given.
    NoPlanError
        When the plan fails its check.
    OutputError
        When the page cannot be written.
    """
    if plan_file is None:
        lifting = study_lifting(read_house(options.folder), choices, gust_m_per_s=gust_m_per_s)
    else:
        done = read_checked_plan(options.folder, plan_file)
        lifting = study_lifting(done.job.house, choices, plan=done, gust_m_per_s=gust_m_per_s)
    show_sheet(lifting_sheet(lifting), lifting_document(lifting), options)
