"""Tables and figures as the benchmarks print them."""

from __future__ import annotations

from rich.table import Table


def empty_table(title: str, *columns: str, caption: str | None = None) -> Table:
    """Return an empty table."""
    table = Table(title=title, title_justify="left", caption=caption, caption_justify="left")
    for column in columns:
        table.add_column(column)
    return table


def ratio(value: int, other: int) -> str:
    """Return how many times one value is another."""
    return f"{value / other:.3f}" if other else "-"


def gap(value: int | None, bound: int) -> str:
    """Return the share of a value that is not proven."""
    return f"{(value - bound) / value:.1%}" if value else "-"
