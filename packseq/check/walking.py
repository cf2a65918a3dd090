"""The legs that the lifting team truly walks."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.check.job import Lift
from packseq.routes.values import Leg


@dataclass(frozen=True, slots=True)
class Walked:
    """The legs of one move, and the people that the frame needs.

    A leg is None where nothing is walked: before the first pick-up, where there is no way, and
    where the move cannot be carried out.
    """

    empty: Leg | None
    loaded: Leg | None
    people: int

    @property
    def empty_mm(self) -> int:
        """Length of the walk to the pick-up in whole mm."""
        return 0 if self.empty is None else self.empty.mm

    @property
    def loaded_mm(self) -> int:
        """Length of the walk with the frame in whole mm."""
        return 0 if self.loaded is None else self.loaded.mm

    @property
    def walking_mm(self) -> int:
        """Both legs together."""
        return self.empty_mm + self.loaded_mm


NOT_WALKED = Walked(None, None, 0)
"""Of a move that cannot be carried out."""


def walked_in(lift: Lift) -> Walked:
    """Return the legs of a lift."""
    return Walked(lift.empty, lift.loaded, lift.job.house.scenario.crew.team(lift.frame.mass_kg))
