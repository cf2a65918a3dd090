"""``packseq braces``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.checkedplan import read_checked_plan
from packseq.cli.sheets import SheetOptions, show_sheet
from packseq.sitework.braces.bracedata import bracing_document
from packseq.sitework.braces.bracing import bracing_sheet, study_bracing
from packseq.sitework.braces.choices import BraceChoices


def show_bracing(
    options: SheetOptions, plan_file: Path, choices: BraceChoices, permanent_kn: tuple[float, ...]
) -> None:
    """Show the sheet about temporary braces.

    Raises
    ------
    InputError
        With every fault of the scenario and of the plan file.
    NoPlanError
        When the plan fails its check.
    OutputError
        When the page cannot be written.
    """
    done = read_checked_plan(options.folder, plan_file)
    bracing = study_bracing(done, choices, permanent_kn=permanent_kn)
    show_sheet(bracing_sheet(bracing), bracing_document(bracing), options)
