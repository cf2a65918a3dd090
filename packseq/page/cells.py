"""Headings and cells of tables."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.page.markup import text
from packseq.sheet import Column

_SHORT, _LONG = 14, 30
"""A cell of no more letters than the first, such as ``west end``, stays on one line; one of more than the
second is never squeezed to a word a line."""


def headings(columns: Iterable[Column]) -> Iterable[str]:
    """Yield the heading of each column."""
    return (text("th", column.heading, scope="col", class_=kind(column)) for column in columns)


def cell(column: Column, said: str) -> str:
    """Return one cell that holds text."""
    size = "short" if len(said) <= _SHORT else "long" if len(said) > _LONG else ""
    return text("td", said, class_=f"{kind(column)} {size}".strip())


def kind(column: Column) -> str:
    """Return the classes of a column."""
    kinds = (("number", column.number), ("to-fill-in", column.to_fill_in))
    return " ".join(word for word, so in kinds if so)
