"""What an import took, refused and assumed, as a sheet, as plain data and as a page of text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packseq.entry.extent import extents
from packseq.entry.ifc.job import Imported
from packseq.sheet import Column, Section, Sheet, Table, Words


def import_sheet(imported: Imported) -> Sheet:
    """Return what became of every wall, and what was assumed; not what is to be mended."""
    return Sheet("Import", imported.name, (), tuple(_sections(imported)))


def import_document(imported: Imported) -> dict[str, Any]:
    """Return the same as plain data."""
    return {
        "name": imported.name,
        "walls": [
            {
                "id": account.global_id,
                "wall": account.called,
                "kind": account.kind,
                "frames": list(account.frames),
                "refused": account.refused,
                "notes": list(account.notes),
            }
            for account in imported.accounts
        ],
        "joins": list(imported.joins),
        "assumed": list(imported.assumed),
        "to_mend": [str(fault) for fault in imported.faults],
    }


def import_text(imported: Imported) -> str:
    """Return the same as a page of text in Markdown, with what is to be mended first."""
    lines = [f"# Import: {imported.name}", ""]
    for section in (*_sections(imported), *_to_mend(imported)):
        lines += [f"## {section.heading}", ""]
        for part in section.parts:
            if isinstance(part, Words):
                lines += [f"- {paragraph}" for paragraph in part.paragraphs]
            elif isinstance(part, Table):
                lines.append(_row(column.heading for column in part.columns))
                lines.append("|" + "---|" * len(part.columns))
                lines += [_row(row) for row in part.rows]
        lines.append("")
    return "\n".join(lines)


def _row(cells: Iterator[str] | tuple[str, ...]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _sections(imported: Imported) -> Iterator[Section]:
    taken = sum(account.refused is None for account in imported.accounts)
    rows = tuple(
        (
            account.called,
            ", ".join(account.frames) if account.refused is None else f"refused: {account.refused}",
            "; ".join(account.notes),
        )
        for account in imported.accounts
    )
    columns = (Column("wall in the model"), Column("frames"), Column("notes"))
    yield Section(f"Walls: {len(rows)}, {taken} taken", (Table(columns, rows),))
    if imported.house is not None:
        yield Section(
            "Hold these against the plan", (Words(tuple(str(extent) for extent in extents(imported.house))),)
        )
    yield Section("Joins", (Words(imported.joins),))
    yield Section("Not in the model: plain defaults, to be replaced", (Words(imported.assumed),))


def _to_mend(imported: Imported) -> Iterator[Section]:
    if imported.faults:
        faults = tuple(str(fault) for fault in imported.faults)
        yield Section("To mend before the house can be planned", (Words(faults),))
