"""The shift of the frame plan that makes the worst overhang or shortfall as small as it can be.

The angle is not searched: the reference wall keeps the angle to its edge that is drawn, and the measured edge
lies as the drawn one does, because that is how the measured slab is laid on the drawing. How far a point lies
over an edge changes evenly with a shift, so that what is left is a linear programme, solved exactly (by the
simplex method, to rounding).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from scipy.optimize import linprog

from packseq.geometry import Point
from packseq.sitework.slab.model import Fit, WallFit
from packseq.sitework.slab.unknowns import Array
from packseq.sitework.slabedges import AtEdge
from packseq.sitework.walls import Wall

_TIGHT = 1e-9


def best_fit(at_edges: Sequence[AtEdge], corners: Mapping[str, Point], reference: Wall) -> Fit:
    """Return the best shift of the frame plan on the slab as measured.

    First the worst difference from what is drawn is made the smallest. Where that leaves the shift free in
    some direction, the worst of the walls that do not decide it is made the smallest in its turn.

    Parameters
    ----------
    at_edges
        Walls and the edges that they stand at; at least one.
    corners
        Corners of the slab as measured, laid on the drawing by the edge at the reference wall.
    reference
        The reference wall.
    """
    outward = np.array([each.edge.outward(corners) for each in at_edges for _ in (0, 1)])
    still = np.array([over for each in at_edges for over in _over(each, corners, (0.0, 0.0))])
    drawn = np.array([over for each in at_edges for over in each.drawn_mm])
    shift = _smallest_worst(outward, still - drawn)
    walls = tuple(
        WallFit(each, _over(each, corners, (float(shift[0]), float(shift[1])))) for each in at_edges
    )
    return Fit(
        along_mm=float(shift @ np.array(reference.along)),
        inward_mm=float(shift @ np.array(reference.left)),
        worst_mm=max(abs(beyond) for wall in walls for beyond in wall.beyond_mm),
        walls=walls,
    )


def _over(each: AtEdge, corners: Mapping[str, Point], shift: Point) -> tuple[float, float]:
    """Return how far the ends of a wall's outer face lie over its edge once the plan is shifted."""
    first, second = (
        each.edge.over_mm((x + shift[0], y + shift[1]), corners) for x, y in each.wall.face(left=False)
    )
    return first, second


def _smallest_worst(outward: Array, beyond: Array) -> Array:
    """Return the shift with the smallest worst of ``abs(outward @ shift + beyond)``, then the next worst."""
    rows = np.vstack([outward, -outward])
    sides = np.concatenate([beyond, -beyond])
    held = np.full(len(sides), np.inf)
    shift = np.zeros(2)
    while np.isinf(held).any():
        # rows @ shift + sides <= worst where the row is still in play, else <= what it is held at.
        playing = np.isinf(held)
        table = np.hstack([rows, -playing[:, None].astype(float)])
        limits = np.where(playing, -sides, held - sides)
        found = linprog(
            [0.0, 0.0, 1.0],
            A_ub=table,
            b_ub=limits,
            bounds=[(None, None)] * 2 + [(0.0, None)],
            method="highs-ds",
        )
        if found.x is None:
            raise RuntimeError(f"the fit was not solved: {found.message}")
        shift = np.asarray(found.x[:2], dtype=float)
        # A row with a price stays at the worst in every best shift: it is held there from now on.
        decides = playing & (np.abs(found.ineqlin.marginals) > _TIGHT)
        if not decides.any():
            break
        held[decides] = found.x[2]
    return shift
