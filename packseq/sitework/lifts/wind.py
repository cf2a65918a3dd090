"""The wind on a frame that is held upright, and the wind from which that is too much for people.

A frame on its line is taken as a free-standing wall on the ground. Two published sets of pressure
coefficients are used and the larger counts: AS/NZS 1170.2, hoardings and free-standing walls (as
implemented by two public programs that agree), and EN 1991-1-4, table 7.9 (likewise).
"""

from __future__ import annotations

import math
from bisect import bisect_right

AIR_KG_M3 = 1.2
"""Density of air: AS/NZS 1170.2, equation 2.4(1). EN 1991-1-4 has 1.25."""

GRAVITY_M_S2 = 9.80665

SUSTAINED_PUSH_KG = 7.0
"""Push that is kept up, in kg of force: HSE L23 has 10 for men and 7 for women. The lesser is used."""

HANDS_UP_MM = 1200.0
"""Height at which people hold an upright frame: common practice, no source."""

# EN 1991-1-4, table 7.9, no return corners: zones A to 0.3 h, B to 2 h, C to 4 h, D beyond.
_ZONE_ENDS = (0.3, 2.0, 4.0, math.inf)
_ZONE_LENGTHS = (3.0, 5.0, 10.0)
_ZONE_FACTORS = ((2.3, 1.4, 1.2, 1.2), (2.9, 1.8, 1.4, 1.2), (3.4, 2.1, 1.7, 1.2))


def pressure_pa(speed_m_per_s: float, air_kg_m3: float = AIR_KG_M3) -> float:
    """Return the dynamic pressure q = density / 2 x V^2, in Pa: 0.6 V^2 with air at 1.2 kg/m3."""
    return air_kg_m3 / 2 * speed_m_per_s**2


def wall_coefficient(length: float, height: float, above_ground: float | None = None) -> float:
    """Return the net pressure coefficient of a free-standing wall, wind square on to it.

    Source: AS/NZS 1170.2, appendix on hoardings and free-standing walls.

    Parameters
    ----------
    length
        b, in the unit of the others.
    height
        c, of the wall itself.
    above_ground
        h, from the ground to the wall's top; the wall's own height when it stands on the ground.
    """
    slimness = length / height
    share = height / (above_ground or height)
    if share < 0.2:  # noqa: PLR2004 - the three ranges of the table
        return 1.4 + 0.3 * math.log10(slimness)
    if slimness > 5:  # noqa: PLR2004
        return 1.7 - 0.5 * share
    return 1.3 + 0.5 * (0.3 + math.log10(slimness)) * (0.8 - share)


def zone_coefficients(slimness: float) -> tuple[float, float, float, float]:
    """Return the coefficients of zones A to D for a length of `slimness` heights.

    Source: EN 1991-1-4, table 7.9, solid, without return corners; straight lines between its rows.
    """
    row = min(max(bisect_right(_ZONE_LENGTHS, slimness) - 1, 0), len(_ZONE_LENGTHS) - 2)
    low, high = _ZONE_LENGTHS[row : row + 2]
    part = min(max((slimness - low) / (high - low), 0.0), 1.0)
    first, second, third, fourth = (
        lower + part * (upper - lower)
        for lower, upper in zip(_ZONE_FACTORS[row], _ZONE_FACTORS[row + 1], strict=True)
    )
    return first, second, third, fourth


def mean_zone_coefficient(length: float, height: float) -> float:
    """Return the mean along a wall of the coefficients of its zones, counted from its windward end."""
    begins, total = 0.0, 0.0
    for factor, end in zip(zone_coefficients(length / height), _ZONE_ENDS, strict=True):
        ends = min(end * height, length)
        total += factor * max(ends - begins, 0.0)
        begins = max(begins, ends)
    return total / length


def porosity_factor(solidity: float) -> float:
    """Return K_p = 1 - (1 - solidity)^2 for a wall that is partly open.

    Source: AS/NZS 1170.2, from memory.
    """
    return 1 - (1 - solidity) ** 2


def force_n(speed_m_per_s: float, length_mm: float, height_mm: float, solidity: float = 1.0) -> float:
    """Return the force of the wind on an upright frame, in N: F = q C K_p b h."""
    return pressure_pa(speed_m_per_s) * _drag_m2(length_mm, height_mm, solidity)


def holding_speed_m_per_s(
    length_mm: float,
    height_mm: float,
    people: int,
    *,
    solidity: float = 1.0,
    push_kg: float = SUSTAINED_PUSH_KG,
) -> float:
    """Return the wind speed at which people can only just hold a frame upright, in m/s.

    Moments about the bottom plate, which is taken not to slide: the wind acts at half the height, the
    people push where their hands are, at 1200 mm or half the height of a lower frame.
    F h / 2 = people x push x hands, so V = sqrt(people x push x g x hands / (h / 2) / (0.6 C K_p b h)).
    """
    hands_mm = min(HANDS_UP_MM, height_mm / 2)
    held_n = people * push_kg * GRAVITY_M_S2 * hands_mm / (height_mm / 2)
    return math.sqrt(held_n / (pressure_pa(1.0) * _drag_m2(length_mm, height_mm, solidity)))


def _drag_m2(length_mm: float, height_mm: float, solidity: float) -> float:
    """Return C K_p b h, in square metres."""
    coefficient = max(wall_coefficient(length_mm, height_mm), mean_zone_coefficient(length_mm, height_mm))
    return coefficient * porosity_factor(solidity) * length_mm * height_mm / 1e6
