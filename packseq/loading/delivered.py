"""The packs as delivered against the best load, and what to change in them, for people and for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packseq.loading.best import BestLoad
from packseq.loading.changes import Change, Changes
from packseq.loading.words import counted
from packseq.sheet import Column, Section, Table, Words


def delivered_section(changes: Changes, best: BestLoad) -> Section:
    """Return how the delivered packs compare with the best load, and the fewest frames to be moved."""
    told = Words(tuple(_words(changes, best)))
    parts = (told, _table(changes)) if changes.steps else (told,)
    return Section("The packs as delivered against the best load", parts)


def delivered_document(changes: Changes) -> dict[str, Any]:
    """Return the same as plain data."""
    return {
        "extra_lifts": changes.delivered_lifts,
        "proven": changes.delivered_proven,
        "limits_as_delivered": list(changes.eased),
        "changes": [
            {
                "extra_lifts": change.extra_lifts,
                "frames_moved": len(change.moved),
                "at_least": change.at_least,
                "moved": list(change.moved),
            }
            for change in changes.steps
        ],
    }


def _words(changes: Changes, best: BestLoad) -> Iterator[str]:
    delivered = counted(changes.delivered_lifts, "extra lift")
    sure = "proven" if changes.delivered_proven else "the best plan found, perhaps fewer"
    least = best.stages[0]
    best_sure = "proven" if least.status == "optimal" else f"none has fewer than {least.bound}"
    yield (
        f"As delivered: {delivered} ({sure}). "
        f"Best load: {counted(best.extra_lifts, 'extra lift')} ({best_sure})."
    )
    if changes.eased:
        keys = ", ".join(changes.eased)
        yield f"The delivered packs themselves break limits of [load]; taken as delivered here: {keys}."
    if changes.steps:
        yield (
            "Laid otherwise, these frames get the extra lifts down to each number: the fewest found that do. "
            "For a number that is left out, see the next lower one."
        )


def _table(changes: Changes) -> Table:
    columns = (
        Column("extra lifts", number=True),
        Column("frames moved", number=True),
        Column("how sure"),
        Column("which"),
    )
    rows = tuple(
        (str(change.extra_lifts), str(len(change.moved)), _sure(change), ", ".join(change.moved))
        for change in changes.steps
    )
    return Table(columns, rows)


def _sure(change: Change) -> str:
    if change.proven:
        return "proven: fewer will not do"
    return "at most" if change.at_least <= 1 else f"at most; {change.at_least} at least"
