"""How the lifts are done, all of it to be changed on the command line."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.sitework.lifts.niosh import MOST_HOURS, RATES, Coupling
from packseq.sitework.lifts.wind import SUSTAINED_PUSH_KG


@dataclass(frozen=True, slots=True)
class LiftChoices:
    """How the lifts are done.

    Parameters
    ----------
    each_kg
        What one person could lift alone, for the team guidance; None: the crew's share.
    reach_mm
        From the ankles to the hands, along the ground: common practice, no source.
    hands_mm
        Height of the hands at lift-off; None: worked out from where the frame lies.
    turn_deg, per_minute, hours, coupling
        As the lifting equation has them.
    push_kg
        What one person can push and keep up, in kg of force.
    """

    each_kg: float | None = None
    reach_mm: float = 400.0
    hands_mm: float | None = None
    turn_deg: float = 0.0
    per_minute: float = RATES[0]
    hours: float = MOST_HOURS
    coupling: Coupling = "poor"
    push_kg: float = SUSTAINED_PUSH_KG
