"""How long a search over states may still go on."""

from __future__ import annotations

from packseq.standup.solver import Clock


class Budget:
    """Counts the lifts looked at; over once so many were, or once the clock has run out.

    The count is the limit that gives the same answer every time; the clock is a safety stop.
    """

    def __init__(self, work: int, clock: Clock) -> None:
        self._work = work
        self._clock = clock
        self.spent = 0

    def spend(self, lifts: int) -> None:
        """Count lifts that were looked at."""
        self.spent += lifts

    @property
    def left(self) -> int:
        """Lifts that may still be looked at, 0 once the clock has run out."""
        return 0 if self._clock.left <= 0 else max(0, self._work - self.spent)

    def share(self, parts: int) -> Budget:
        """Return one of several equal parts of what is left; what is spent of it is not counted here."""
        return Budget(self.left // parts, self._clock)
