"""The largest 3-4-5 triangle that fits at a crossing."""

from __future__ import annotations

from packseq.geometry import Point
from packseq.sitework.setout.floor import Floor
from packseq.sitework.setout.model import GridLine, Triangle

STEP_MM = 100.0
"""Units are whole multiples of this, so that the legs read easily on a tape; from no standard."""

_LEGS = ((3, 4), (4, 3))


def largest_triangle(
    reference: GridLine, square: GridLine, headings: tuple[Point, Point], floor: Floor
) -> Triangle | None:
    """Return the largest 3-4-5 triangle at the crossing of two lines, its three sides on the floor.

    Parameters
    ----------
    reference, square
        The two lines.
    headings
        Unit vectors in which the legs go: along the reference line and along the other.
    floor
        What the tape must lie on.

    Returns
    -------
    None where not even the smallest one fits. Of two as large, the one with its longer leg along the
    reference line.
    """
    corner = reference.crossing(square)
    if corner is None:
        return None
    best: Triangle | None = None
    for first, second in _LEGS:
        unit_mm = STEP_MM
        while floor.holds_ring(corner, *(ends := _ends(corner, headings, first * unit_mm, second * unit_mm))):
            if best is None or unit_mm >= best.unit_mm:
                best = Triangle(
                    reference=reference.number,
                    square=square.number,
                    corner=corner,
                    along_reference_mm=first * unit_mm,
                    along_square_mm=second * unit_mm,
                    unit_mm=unit_mm,
                    leg_ends=ends,
                )
            unit_mm += STEP_MM
    return best


def _ends(
    corner: Point, headings: tuple[Point, Point], first_mm: float, second_mm: float
) -> tuple[Point, Point]:
    (ux, uy), (vx, vy) = headings
    return (
        (corner[0] + first_mm * ux, corner[1] + first_mm * uy),
        (corner[0] + second_mm * vx, corner[1] + second_mm * vy),
    )
