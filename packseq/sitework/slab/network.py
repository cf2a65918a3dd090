"""Corners from tapes by least squares, and what the tapes say of one another.

The corners are where the weighted squares of what the tapes are off add up to the least (variation of
coordinates, Gauss-Newton).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from scipy.stats import chi2

from packseq.geometry import Point
from packseq.sitework.slab.model import Adjusted, Tape
from packseq.sitework.slab.unknowns import Array, Network, turn_of
from packseq.sitework.slab.verdicts import checked_tapes

_AGREES = 0.95

_ROUNDS = 50
_STILL_MM = 1e-7


def adjust(tapes: Sequence[Tape], corners: Mapping[str, Point], base: tuple[str, str]) -> Adjusted:
    """Return the corners that fit the tapes best.

    Parameters
    ----------
    tapes
        The readings, enough to fix every corner (`enough.loose_corners`); several between one pair of
        corners are repeats.
    corners
        Where the corners are drawn, by name: there the search begins.
    base
        The edge that is held: its first corner stays where it is drawn, the edge as it lies.
    """
    names = tuple(corners)
    turn = turn_of(corners, base)
    origin = np.array(corners[base[0]])
    drawn = (np.array([corners[name] for name in names]) - origin) @ turn
    network = Network.of(names, tapes, base)
    sds = np.array([tape.sd_mm for tape in tapes])
    measured = np.array([tape.measured_mm for tape in tapes])
    places = _settled(network, drawn, measured, sds)
    slopes = network.slopes(places) / sds[:, None]
    shared = np.linalg.inv(slopes.T @ slopes)
    off = measured - network.lengths(places)
    spare = len(tapes) - len(network.free)
    error = math.sqrt(float(np.sum((off / sds) ** 2)) / spare) if spare else None
    checked = checked_tapes(tapes, off, sds, np.eye(len(tapes)) - slopes @ shared @ slopes.T)
    scale = max(1.0, error or 1.0)
    full = np.zeros((2 * len(names), 2 * len(names)))
    full[np.ix_(network.free, network.free)] = shared * scale**2
    return Adjusted(
        corners={name: _point(origin + turn @ place) for name, place in zip(names, places, strict=True)},
        sd_mm={
            name: _point(np.sqrt(np.diag(turn @ full[2 * at : 2 * at + 2, 2 * at : 2 * at + 2] @ turn.T)))
            for at, name in enumerate(names)
        },
        tapes=checked.tapes,
        spare_tapes=spare,
        unit_error=error,
        agrees=None if error is None else spare * error**2 <= float(chi2.ppf(_AGREES, spare)),
        suspects=checked.suspects,
    )


def _settled(network: Network, drawn: Array, measured: Array, sds: Array) -> Array:
    """Return the places at which no further step is taken (Gauss-Newton from the drawing)."""
    places = drawn.copy()
    for _ in range(_ROUNDS):
        slopes = network.slopes(places) / sds[:, None]
        wanted = (measured - network.lengths(places)) / sds
        step = np.zeros(places.size)
        step[network.free] = np.linalg.lstsq(slopes, wanted, rcond=None)[0]
        places = places + step.reshape(places.shape)
        if np.max(np.abs(step)) < _STILL_MM:
            break
    return places


def _point(values: Array) -> Point:
    return (float(values[0]), float(values[1]))
