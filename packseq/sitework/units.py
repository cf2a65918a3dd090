"""A figure in another unit than mm, suspected from what it ought to be."""

from __future__ import annotations

_MM_IN = {"metres": 1000.0, "centimetres": 10.0, "feet": 304.8, "inches": 25.4}
_LIKE = 0.05
"""Share by which a figure may differ from what it ought to be and still be taken for it."""


def suspected_unit(value: float, expected_mm: float) -> str | None:
    """Return the unit in which a value comes out as expected, or None."""
    for unit, factor in _MM_IN.items():
        if abs(value * factor - expected_mm) <= _LIKE * expected_mm:
            return unit
    return None
