"""Several files read one after another, so that the faults of all of them are told at once."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from packseq.errors import Fault, InputError

Read = TypeVar("Read")


class Gathering:
    """Reads one thing after another and keeps the faults of all in `faults`."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def read(self, reader: Callable[[], Read]) -> Read | None:
        """Return what a reader returns; None where it found faults."""
        try:
            return reader()
        except InputError as error:
            self.faults += error.faults
            return None
