"""The revised NIOSH lifting equation, metric.

Source of every figure, unless said otherwise: Waters, Putz-Anderson and Garg, Applications Manual for
the Revised NIOSH Lifting Equation, DHHS (NIOSH) Publication 94-110, 1994, revised 9/2021, as transcribed
by others. The equation is for one person with both hands; docs/lifts.md says what it leaves out.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from typing import Literal

Coupling = Literal["good", "fair", "poor"]
Duration = Literal["short", "moderate", "long"]

LOAD_CONSTANT_KG = 23.0
"""The load recommended when everything else is as good as can be (p. 7)."""

LEAST_REACH_CM, MOST_REACH_CM = 25.0, 63.0
KNUCKLES_CM, MOST_HEIGHT_CM = 75.0, 175.0
LEAST_TRAVEL_CM, MOST_TRAVEL_CM = 25.0, 175.0
MOST_TURN_DEG = 135.0
MOST_HOURS = 8.0
"""The equation says nothing of longer days (pp. 5-6)."""

RATES = (0.2, 0.5, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15)
"""Lifts a minute of table 5; at or below the first, nothing more is gained."""

# Table 5 (p. 15): for each rate, hands below 75 cm and hands at or above it.
_FREQUENCY: dict[Duration, tuple[tuple[float, float], ...]] = {
    "short": (
        *((m, m) for m in (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45)),
        *((0.41, 0.41), (0.37, 0.37), (0.00, 0.34), (0.00, 0.31), (0.00, 0.28)),
    ),
    "moderate": (
        *((m, m) for m in (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26)),
        *((0.00, 0.23), (0.00, 0.21), (0.00, 0.00), (0.00, 0.00), (0.00, 0.00)),
    ),
    "long": (
        *((m, m) for m in (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18)),
        *((0.00, 0.15), (0.00, 0.13), (0.00, 0.00), (0.00, 0.00), (0.00, 0.00), (0.00, 0.00), (0.00, 0.00)),
    ),
}

# Hands below 75 cm and at or above it. Fair is read in example 4; the rest of the table is from memory.
_COUPLING: dict[Coupling, tuple[float, float]] = {
    "good": (1.00, 1.00),
    "fair": (0.95, 1.00),
    "poor": (0.90, 0.90),
}


@dataclass(frozen=True, slots=True)
class Posture:
    """Where the hands are, and how the lift is done.

    Parameters
    ----------
    reach_cm
        H: from the middle between the ankles to the middle between the hands, along the ground.
    height_cm
        V: hands above the floor, at this end of the lift.
    travel_cm
        D: how far the hands go up or down.
    turn_deg
        A: how far the load lies round to the side.
    per_minute
        F: lifts a minute.
    duration
        How long such work goes on: short up to 1 hour, moderate up to 2, long up to 8.
    coupling
        How good the grip is; when in doubt, the worse.
    """

    reach_cm: float
    height_cm: float
    travel_cm: float
    turn_deg: float = 0.0
    per_minute: float = RATES[0]
    duration: Duration = "long"
    coupling: Coupling = "poor"


def reach_multiplier(reach_cm: float) -> float:
    """Return HM = 25 / H: 1 at 25 cm and nearer, 0 beyond 63 cm (p. 8)."""
    if reach_cm > MOST_REACH_CM:
        return 0.0
    return LEAST_REACH_CM / max(reach_cm, LEAST_REACH_CM)


def height_multiplier(height_cm: float) -> float:
    """Return VM = 1 - 0.003 |V - 75|: 0 above 175 cm (p. 9)."""
    if not 0 <= height_cm <= MOST_HEIGHT_CM:
        return 0.0
    return 1 - 0.003 * abs(height_cm - KNUCKLES_CM)


def travel_multiplier(travel_cm: float) -> float:
    """Return DM = 0.82 + 4.5 / D: 1 at 25 cm and less, 0 beyond 175 cm (pp. 10-11)."""
    if travel_cm > MOST_TRAVEL_CM:
        return 0.0
    return 0.82 + 4.5 / max(travel_cm, LEAST_TRAVEL_CM)


def turn_multiplier(turn_deg: float) -> float:
    """Return AM = 1 - 0.0032 A: 0 beyond 135 degrees (p. 12)."""
    if turn_deg > MOST_TURN_DEG:
        return 0.0
    return 1 - 0.0032 * turn_deg


def frequency_multiplier(per_minute: float, duration: Duration, height_cm: float) -> float:
    """Return FM of table 5 (p. 15); a rate between two rows counts as the higher, one past the last as 0."""
    row = bisect_left(RATES, per_minute)
    return _FREQUENCY[duration][row][height_cm >= KNUCKLES_CM] if row < len(RATES) else 0.0


def coupling_multiplier(coupling: Coupling, height_cm: float) -> float:
    """Return CM, which depends on the grip and on whether the hands are below 75 cm."""
    return _COUPLING[coupling][height_cm >= KNUCKLES_CM]


def duration_of(hours: float) -> Duration:
    """Return the duration class of so many hours of lifting work.

    Raises
    ------
    ValueError
        For more than 8 hours, of which the equation says nothing, and for none at all.
    """
    if not 0 < hours <= MOST_HOURS:
        raise ValueError(f"the equation is for up to {MOST_HOURS:g} hours of lifting work, not {hours:g}")
    return "short" if hours <= 1 else "moderate" if hours <= 2 else "long"  # noqa: PLR2004


def recommended_kg(posture: Posture) -> float:
    """Return the recommended weight limit: RWL = LC HM VM DM AM FM CM (p. 7), in kg; 0 for no such lift."""
    return (
        LOAD_CONSTANT_KG
        * reach_multiplier(posture.reach_cm)
        * height_multiplier(posture.height_cm)
        * travel_multiplier(posture.travel_cm)
        * turn_multiplier(posture.turn_deg)
        * frequency_multiplier(posture.per_minute, posture.duration, posture.height_cm)
        * coupling_multiplier(posture.coupling, posture.height_cm)
    )


def lifting_index(load_kg: float, limit_kg: float) -> float:
    """Return LI = load / RWL (p. 7); endless where the limit is 0."""
    return load_kg / limit_kg if limit_kg > 0 else math.inf
