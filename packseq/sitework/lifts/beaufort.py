"""Wind speeds in the words of the Beaufort scale."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

LOWER_LIMITS_M_PER_S = (0.0, 0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
"""Least speed of forces 0 to 12. Source: two published tables that agree, see docs/lifts.md."""

_WORDS = (
    ("calm", "smoke rises straight up"),
    ("light air", "smoke drifts"),
    ("light breeze", "wind felt on the face, leaves rustle"),
    ("gentle breeze", "leaves and small twigs move all the time"),
    ("moderate breeze", "dust and loose paper lift, small branches move"),
    ("fresh breeze", "small trees in leaf sway"),
    ("strong breeze", "large branches move, umbrellas are hard to use"),
    ("near gale", "whole trees move, it is hard to walk against the wind"),
    ("gale", "twigs break off trees"),
    ("strong gale", "slight damage to buildings"),
    ("storm", "trees uprooted, much damage to buildings"),
    ("violent storm", "widespread damage"),
    ("hurricane", "devastation"),
)


@dataclass(frozen=True, slots=True)
class Force:
    """One force of the scale: its number, its name, and what is seen on land."""

    number: int
    name: str
    seen: str

    def __str__(self) -> str:
        return f"force {self.number}, {self.name}"


def beaufort(speed_m_per_s: float) -> Force:
    """Return the Beaufort force that a speed falls in.

    The scale is made for steady wind ten metres up; of a gust it tells only how that feels.
    """
    number = bisect_right(LOWER_LIMITS_M_PER_S, speed_m_per_s) - 1
    return Force(number, *_WORDS[number])
