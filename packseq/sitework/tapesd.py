"""How far a tape reading may be off, unless told otherwise."""

from __future__ import annotations

import math

_MARKS_MM = 1.5
"""Standard deviation of holding and reading both ends: common practice, no source."""

_CLASS_FIXED_MM, _CLASS_PER_M_MM = 0.3, 0.2
"""Most that a tape of accuracy class II may be off: 0.3 mm and 0.2 mm a metre (OIML R 35, from memory)."""


def tape_sd_mm(length_mm: float) -> float:
    """Return the standard deviation of one tape reading in mm.

    Reading both ends, and the tape itself: as likely to be anywhere within what its class allows,
    whose standard deviation is that limit over the square root of 3.
    """
    limit_mm = _CLASS_FIXED_MM + _CLASS_PER_M_MM * length_mm / 1000
    return math.hypot(_MARKS_MM, limit_mm / math.sqrt(3))
