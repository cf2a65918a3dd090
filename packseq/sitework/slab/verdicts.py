"""What the tapes say of one another.

Tests after W. Baarda, "A testing procedure for use in geodetic networks" (1968), from memory: standardised
residuals, redundancy numbers, the smallest error that is found.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import norm

from packseq.sitework.slab.model import Checked, Tape
from packseq.sitework.slab.unknowns import Array

SCORE_LIMIT = float(norm.ppf(1 - 0.001 / 2))
"""A sound tape scores higher once in a thousand (both ways): 3.29."""

_FOUND = SCORE_LIMIT + float(norm.ppf(0.8))
"""Non-centrality at which an error is found in four of five cases: 3.29 + 0.84 = 4.13."""

_LEAST_SPARE = 0.02
"""A tape of whose error less than this share shows is not checked by the others."""

_TWINS = 0.98
"""Residuals correlated this closely cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Every tape with what the others say of it, and the suspects among them, worst first."""

    tapes: tuple[Checked, ...]
    suspects: tuple[Checked, ...]


def checked_tapes(tapes: Sequence[Tape], off: Array, sds: Array, spread: Array) -> Verdict:
    """Return what the tapes say of one another.

    Parameters
    ----------
    tapes
        The tapes.
    off
        By how much each says more than the adjusted distance, in mm.
    sds
        Their standard deviations in mm.
    spread
        The cofactor matrix of the residuals, each over its standard deviation: its diagonal holds the
        redundancy numbers.
    """
    checked = []
    for at, tape in enumerate(tapes):
        spare = max(0.0, float(spread[at, at]))
        is_checked = spare >= _LEAST_SPARE
        checked.append(
            Checked(
                tape=tape,
                adjusted_mm=tape.measured_mm - float(off[at]),
                off_mm=float(off[at]),
                spare=spare,
                score=float(off[at] / sds[at]) / math.sqrt(spare) if is_checked else None,
                blunder_mm=float(off[at]) / spare if is_checked else None,
                seen_from_mm=_FOUND * float(sds[at]) / math.sqrt(spare) if is_checked else None,
            )
        )
    scores = [abs(each.score or 0.0) for each in checked]
    worst = int(np.argmax(scores))
    if scores[worst] <= SCORE_LIMIT:
        return Verdict(tuple(checked), ())
    twins = [
        at
        for at, each in enumerate(checked)
        if each.score is not None
        and abs(spread[worst, at]) >= _TWINS * math.sqrt(spread[worst, worst] * spread[at, at])
    ]
    twins.sort(key=lambda at: (-scores[at], at))
    return Verdict(tuple(checked), tuple(checked[at] for at in twins))
