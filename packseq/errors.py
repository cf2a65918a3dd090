"""What can go wrong, and with which exit code the command line answers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with the input, placed so that a person can find it.

    Parameters
    ----------
    file
        Name of the file inside the scenario folder.
    text
        What is wrong, in trade words.
    row
        Row of the file as a spreadsheet numbers it (the header is row 1).
    column
        Column of a table, or dotted key of ``site.toml``.
    frame
        Frame concerned.
    """

    file: str
    text: str
    row: int | None = None
    column: str | None = None
    frame: str | None = None

    def __str__(self) -> str:
        where = [self.file]
        if self.row is not None:
            where.append(f"row {self.row}")
        if self.column is not None:
            where.append(f"column {self.column}" if _is_table(self.file) else self.column)
        if self.frame is not None:
            where.append(f"frame {self.frame}")
        return f"{', '.join(where)}: {self.text}"


def _is_table(file: str) -> bool:
    return file.endswith(".csv") or ".xlsx" in file


class PackseqError(Exception):
    """A failure with an exit code and lines to read."""

    exit_code = 1

    @property
    def lines(self) -> tuple[str, ...]:
        """One line for each thing to say."""
        return tuple(str(argument) for argument in self.args)


class InputError(PackseqError):
    """Input that cannot be used; holds every fault found in one go."""

    exit_code = 1

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(*(str(fault) for fault in self.faults))


@dataclass(frozen=True, slots=True)
class Conflict:
    """Rules that cannot all be kept, and why, in trade words."""

    rules: tuple[str, ...]
    text: str

    def __str__(self) -> str:
        return f"{', '.join(self.rules)}: {self.text}"


class NoPlanError(PackseqError):
    """No plan keeps the rules; holds the rules in conflict."""

    exit_code = 3

    def __init__(self, conflicts: Iterable[Conflict]) -> None:
        self.conflicts = tuple(conflicts)
        super().__init__(*(str(conflict) for conflict in self.conflicts))


class LimitError(PackseqError):
    """The limit was reached before any plan was found."""

    exit_code = 4


class OutputError(PackseqError):
    """A file that cannot be written, or that is kept because it exists already."""

    exit_code = 1
