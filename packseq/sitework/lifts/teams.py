"""What a team can lift together, by published guidance.

Source: Health and Safety Executive, guidance L23 to the Manual Handling Operations Regulations 1992: "as a
rough guide the capability of a two-person team is two-thirds the sum of their individual capabilities, and
for a three-person team the capability is half"; teams of more than four are "unlikely to work
successfully". (Read as quoted by others.)
"""

from __future__ import annotations

LARGEST_TEAM = 4
"""Above this a team is "unlikely to work successfully" (L23)."""

_FACTORS = {1: 1.0, 2: 2 / 3, 3: 1 / 2, 4: 1 / 2}
# L23 has no factor for four. One half carries on the one for three: our choice, no source.


def team_limit_kg(people: int, each_kg: float) -> float | None:
    """Return what a team can lift, in kg; None for more than four people.

    Parameters
    ----------
    people
        How many lift together, at least 1.
    each_kg
        What each of them could lift alone, in this posture.
    """
    return people * each_kg * _FACTORS[people] if people <= LARGEST_TEAM else None


def team_for(mass_kg: float, each_kg: float) -> int | None:
    """Return the smallest team of two to four that can lift a mass; None when no such team can."""
    return next(
        (people for people in range(2, LARGEST_TEAM + 1) if mass_kg <= people * each_kg * _FACTORS[people]),
        None,
    )
