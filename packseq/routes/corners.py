"""Corners that a shortest route may bend at, and the pairs it may go straight between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from packseq.geometry import Ring
from packseq.routes.crossing import Floats, Whole, cross
from packseq.routes.ground import SKIN_MM

_SAME_POINT_DECIMALS = 3
"""Corners that agree to this many decimals of a mm are one corner."""


def corner_pairs(rings: Sequence[Ring]) -> tuple[Floats, Whole, Whole]:
    """Return the convex corners of outlines, and the pairs that a route may go straight between.

    A shortest route bends round the corner it passes: at each end of such a line, the line drawn on
    must not run into the outline that the corner belongs to. Where outlines share a corner, one of
    them is enough.

    Parameters
    ----------
    rings
        Outlines, anticlockwise.

    Returns
    -------
    corners, first, second
        The corners in mm, shape (corners, 2), each once; the positions of the two of each pair,
        first < second, sorted.
    """
    at, before, after = _convex_corners(rings)
    _, chosen, corner = np.unique(
        np.round(at, _SAME_POINT_DECIMALS), axis=0, return_index=True, return_inverse=True
    )
    corners = at[chosen]
    away = corners - at[:, np.newaxis, :]
    inside_after, inside_before = cross(after[:, np.newaxis, :], away), cross(away, before[:, np.newaxis, :])
    runs_in = np.minimum(inside_after, inside_before) > SKIN_MM
    runs_in |= np.maximum(inside_after, inside_before) < -SKIN_MM
    bends_round = np.zeros((len(corners), len(corners)), dtype=np.bool_)
    np.logical_or.at(bends_round, corner.reshape(-1), ~runs_in)
    first, second = np.nonzero(np.triu(bends_round & bends_round.T, k=1))
    return corners, first, second


def _convex_corners(rings: Sequence[Ring]) -> tuple[Floats, Floats, Floats]:
    """Return convex corners, and unit directions from each to the corner before and the one after."""
    corners, befores, afters = [np.empty((0, 2))], [np.empty((0, 2))], [np.empty((0, 2))]
    for ring in rings:
        at = np.array(ring, dtype=np.float64)
        before, after = _unit(np.roll(at, 1, axis=0) - at), _unit(np.roll(at, -1, axis=0) - at)
        convex = cross(after, before) > 0
        corners.append(at[convex])
        befores.append(before[convex])
        afters.append(after[convex])
    return np.concatenate(corners), np.concatenate(befores), np.concatenate(afters)


def _unit(vectors: Floats) -> Floats:
    units: Floats = vectors / np.hypot(vectors[:, 0], vectors[:, 1])[:, np.newaxis]
    return units
