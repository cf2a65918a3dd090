"""A sheet on the terminal: cautions first, then its tables, ticks and words."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.text import Text

from packseq.report.layout import bullets, columns, listing, paragraph, section
from packseq.sheet import Part, Picture, Section, Sheet, Table, Tick, Ticks, Words

TO_FILL_IN = "______"
"""What stands where a value is to be written by hand."""

_BOX = "[ ]"


def sheet_tables(sheet: Sheet) -> tuple[RenderableType, ...]:
    """Return a sheet part by part: its title, its cautions, its sections."""
    cautions = (section("Cautions", bullets(sheet.cautions)),) if sheet.cautions else ()
    title = Text(f"{sheet.title}: {sheet.house}", style="bold", overflow="fold")
    return (title, *cautions, *map(section_tables, sheet.sections))


def section_tables(part: Section) -> RenderableType:
    """Return one section."""
    return section(part.heading, *_apart(part.parts))


def _apart(parts: tuple[Part, ...]) -> Iterator[RenderableType]:
    """Yield the parts of a section, a blank line between them."""
    for number, part in enumerate(parts):
        if number:
            yield Text("")
        yield _part(part)


def _part(part: Part) -> RenderableType:
    match part:
        case Words():
            return listing(part.paragraphs)
        case Table():
            return _titled(part.title, _table(part))
        case Ticks():
            return _titled(part.title, listing(_tick(item) for item in part.items))
        case Picture():
            return paragraph(f"Drawing, on the printed page: {part.caption}")


def _titled(title: str, body: RenderableType) -> RenderableType:
    return Group(paragraph(title), body) if title else body


def _table(table: Table) -> RenderableType:
    headings = [column.heading for column in table.columns]
    rows = [
        [
            TO_FILL_IN if column.to_fill_in and not cell else cell
            for column, cell in zip(table.columns, row, strict=True)
        ]
        for row in table.rows
    ]
    right = {column.heading for column in table.columns if column.number}
    return columns(headings, rows, right=right)


def _tick(tick: Tick) -> str:
    blanks = "".join(f"  {what} {TO_FILL_IN}" for what in tick.to_measure)
    return f"{_BOX} {tick.text}{blanks}"
