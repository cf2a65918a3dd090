"""What a search says while it runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Progress:
    """One report: the best value so far and the proven bound of a stage, after `seconds` in all."""

    stage: str
    value: int | None
    bound: int | None
    seconds: float

    @property
    def gap(self) -> float | None:
        """Share of the value that is not proven yet, 0 to 1; None while either is missing."""
        if self.value is None or self.bound is None:
            return None
        return (self.value - self.bound) / self.value if self.value else 0.0


Listener = Callable[[Progress], None]
