"""Whether a carried frame can be tilted through an opening."""

from __future__ import annotations

import math


def fits(height: float, thickness: float, width: float, headroom: float) -> bool:
    """Tell whether a rectangle fits through a rectangular hole at some tilt.

    True when for some angle a in 0..90 degrees ``height sin a + thickness cos a <= headroom`` and
    ``height cos a + thickness sin a <= width``. Exact, no sampling.

    Parameters
    ----------
    height, thickness
        Sides of the frame's cross-section in mm.
    width, headroom
        Clear width and clear height of the hole in mm, clearances already taken off.

    Notes
    -----
    Turning by 90 degrees swaps width with headroom, so only long and short sides matter. Let the long
    side p exceed the long side a of the hole. At tilt u the rectangle spans ``r cos(u - phi)`` along a
    and ``r sin(u + phi)`` across it, where ``r = hypot(p, q)`` and ``phi = atan2(q, p)``. The first
    fits from ``u = phi + acos(a / r)`` on; the second is concave in u and is too large at 90 degrees,
    so the least tilt that fits along is also the best across.
    """
    short, long = sorted((height, thickness))
    narrow, wide = sorted((width, headroom))
    if long <= wide:
        return short <= narrow
    if short > narrow:
        return False
    diagonal = math.hypot(long, short)
    corner = math.atan2(short, long)
    tilt = corner + math.acos(wide / diagonal)
    return diagonal * math.sin(tilt + corner) <= narrow
