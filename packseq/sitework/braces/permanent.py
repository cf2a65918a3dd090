"""How much of the permanent bracing the temporary bracing must come to, where a code says so."""

from __future__ import annotations

TEMPORARY_SHARE = 0.6
"""AS 1684, clause 8.2, as quoted by others: at least 60 % of the permanent bracing, both ways."""


def temporary_kn(permanent_kn: float) -> float:
    """Return the racking force in kN that temporary bracing must resist in one direction, by AS 1684."""
    return TEMPORARY_SHARE * permanent_kn
