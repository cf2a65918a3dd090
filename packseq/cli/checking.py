"""``packseq check``."""

from __future__ import annotations

from pathlib import Path

from packseq.cli.choices import read_house
from packseq.cli.streams import write_json, write_report
from packseq.report.checkdata import understood_document
from packseq.report.understood import understood_house


def check_scenario(folder: Path, *, as_json: bool) -> None:
    """Show what was understood of a scenario.

    Raises
    ------
    InputError
        With every fault of the scenario.
    """
    house = read_house(folder)
    if as_json:
        write_json(understood_document(house))
    else:
        write_report(understood_house(house))
