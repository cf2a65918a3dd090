"""The rule for temporary braces, all of it to be changed on the command line.

Where the figures come from is said beside each. Those marked common practice have no source; the
engineer's documents and the local rule come before any of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Side = Literal["inside", "outside"]


@dataclass(frozen=True, slots=True)
class BraceChoices:
    """How frames are braced while they wait for the roof or the floor above.

    Parameters
    ----------
    spacing_mm
        Most from one brace or return wall to the next along a frame. 3000 is 10 ft: site practice in the
        United States is every 8 to 10 ft, from memory; no standard was found.
    from_end_mm
        An end is held by a brace or return wall no further off than this: common practice, no source.
    least_return_mm
        A wall at an angle holds a frame when it is at least this long: common practice, no source.
    angle_deg
        Wanted angle of a brace with the floor. 45: Fire Engineering, "Diagonal brace, step by step".
    steepest_deg
        No brace is set steeper than this: common practice, no source.
    least_top
        No brace is nailed lower than this share of the frame's height: common practice, no source.
    side
        Where an external frame's braces go where both sides have room.
    tie_mm
        Most that a tie over the top plates spans to a standing frame: common practice, no source.
    """

    spacing_mm: float = 3000.0
    from_end_mm: float = 600.0
    least_return_mm: float = 600.0
    angle_deg: float = 45.0
    steepest_deg: float = 60.0
    least_top: float = 2 / 3
    side: Side = "inside"
    tie_mm: float = 3000.0

    @property
    def inset_mm(self) -> float:
        """Where the brace of an end goes if there is room: three quarters of the way to the furthest."""
        return 0.75 * self.from_end_mm
