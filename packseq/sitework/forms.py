"""Empty tables to fill in on site, as comma-separated text, and how differences are written."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from packseq.geometry import whole_mm
from packseq.sheet import Column, Table


def signed(value_mm: float) -> str:
    """Return a difference in whole mm with its sign; none for nought."""
    whole = whole_mm(value_mm)
    return f"{whole:+d}" if whole else "0"


def form_text(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as comma-separated text with its header, line feeds at the ends of lines."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(rows)
    return stream.getvalue()


def columns_table(columns: Mapping[str, str], title: str) -> Table:
    """Return what the columns of a file mean, as a table."""
    return Table((Column("column"), Column("holds")), tuple(columns.items()), title=title)
