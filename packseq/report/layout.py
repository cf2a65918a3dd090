"""The look of every report: headings, paragraphs and plain columns.

Whatever text comes in is shown as it is: nothing in it is read as markup. There is
nothing but ASCII in the lines drawn, so that any console can show them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from rich.box import Box
from rich.console import Group, RenderableType
from rich.constrain import Constrain
from rich.table import Table
from rich.text import Text

PROSE_WIDTH = 100
"""Characters in a line of prose, however wide the console."""

_DASHES_UNDER_HEADINGS = Box(
    "    \n    \n -  \n    \n    \n    \n    \n    ",
    ascii=True,
)
"""Nothing but a line of dashes between the headings and the rows."""


def paragraph(text: str) -> RenderableType:
    """Return a paragraph, wrapped between words."""
    return Constrain(Text(text, overflow="fold"), PROSE_WIDTH)


def listing(lines: Iterable[str]) -> RenderableType:
    """Return lines one below the other, each a paragraph of its own."""
    return Group(*(paragraph(line) for line in lines))


def bullets(lines: Iterable[str]) -> RenderableType:
    """Return lines one below the other, each behind a dash."""
    grid = Table.grid(padding=(0, 1, 0, 0))
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    for line in lines:
        grid.add_row(Text("-"), Text(line, overflow="fold"))
    return Constrain(grid, PROSE_WIDTH)


def section(title: str, *parts: RenderableType) -> RenderableType:
    """Return parts under a heading."""
    return Group(Text(title, style="bold", overflow="fold"), *parts)


def columns(
    headings: Sequence[str], rows: Iterable[Sequence[str]], *, right: Collection[str] = ()
) -> RenderableType:
    """Return a table in plain columns; those whose heading is in `right` are flush right."""
    table = Table(
        box=_DASHES_UNDER_HEADINGS, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0), header_style=""
    )
    for heading in headings:
        table.add_column(
            Text(heading), justify="right" if heading in right else "left", overflow="fold", vertical="top"
        )
    for row in rows:
        table.add_row(*(Text(cell, overflow="fold") for cell in row))
    return table
