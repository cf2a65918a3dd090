"""``packseq setout``."""

from __future__ import annotations

from packseq.cli.choices import read_house
from packseq.cli.sheets import SheetOptions, show_sheet
from packseq.sitework.setout import Choices, set_out
from packseq.sitework.setout.document import set_out_document
from packseq.sitework.setout.sheet import set_out_sheet


def show_set_out(choices: Choices, options: SheetOptions) -> None:
    """Show the lines to mark for every level of a scenario.

    Raises
    ------
    InputError
        With every fault of the scenario.
    OutputError
        When the page cannot be written.
    """
    house = read_house(options.folder)
    every = tuple(set_out(house, level, choices) for level in house.levels)
    show_sheet(set_out_sheet(house, every), set_out_document(house, every), options)
