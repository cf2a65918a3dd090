"""Tables with a box to tick on paper in front of each row; on a screen the page ticks it."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.page.cells import cell, headings
from packseq.page.markup import tag, text
from packseq.sheet import Column


def tick_table(
    caption: str, columns: Iterable[Column], rows: Iterable[tuple[int | None, tuple[str, ...]]]
) -> str:
    """Return a table.

    Parameters
    ----------
    caption
        What it is.
    columns
        Its columns, without that of the boxes.
    rows
        For each row the number of the move that it is about, None where there is none, and its cells.
    """
    kinds = tuple(columns)
    body = (tag("tr", _box(move), *_cells(kinds, cells)) for move, cells in rows)
    head = tag("thead", tag("tr", text("th", "done", scope="col"), *headings(kinds)))
    table = tag("table", text("caption", caption), head, tag("tbody", *body))
    # A table wider than a phone scrolls in its box, which can be reached by key.
    return tag("div", table, class_="table", tabindex="0", role="group", aria_label=caption)


def _box(move: int | None) -> str:
    if move is None:
        return tag("td", class_="done")
    return tag("td", tag("span", class_="box", data_move=str(move)), class_="done")


def _cells(columns: Iterable[Column], cells: Iterable[str]) -> Iterable[str]:
    return (cell(column, said) for column, said in zip(columns, cells, strict=True))
