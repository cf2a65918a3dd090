"""What a sheet says, before it is known whether a terminal, a browser or a printer shows it.

The rest of packseq works things out and puts them in a `Sheet`; `report.sheets` makes tables for the
terminal of it, `page.sheets` a page to print.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, whether it holds numbers, and whether it is left blank to fill in."""

    heading: str
    number: bool = False
    to_fill_in: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under headings; every row has a cell for each column."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"a row of the table {self.title!r} does not fit its columns")


@dataclass(frozen=True, slots=True)
class Words:
    """Paragraphs."""

    paragraphs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing to do and tick, and the measured values to write beside it, each with its unit."""

    text: str
    to_measure: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ticks:
    """Things to do in order, each with a box to tick."""

    items: tuple[Tick, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing to scale, as the text of one SVG element, and what it shows."""

    svg: str
    caption: str


Part = Table | Words | Ticks | Picture


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

    heading: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet for one job: its title, the house it is for, its cautions, its sections."""

    title: str
    house: str
    cautions: tuple[str, ...]
    sections: tuple[Section, ...]
