from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations

import numpy as np
import pytest

from packseq.geometry import Ring
from packseq.sitework.slab.model import Tape
from packseq.sitework.slab.network import adjust
from packseq.sitework.slab.shape import corner_shapes, sides
from packseq.sitework.slabedges import corners_at

BASE = ("C1", "C2")


def leaning(length_mm: float, depth_mm: float, lean_mm: float) -> tuple[Ring, list[Tape]]:
    """A rectangle as drawn, and exact tapes of one that leans `lean_mm` over its depth."""
    slab = ((0.0, 0.0), (length_mm, 0.0), (length_mm, depth_mm), (0.0, depth_mm))
    up = math.sqrt(depth_mm**2 - lean_mm**2)
    true = {"C1": (0.0, 0.0), "C2": (length_mm, 0.0), "C3": (length_mm + lean_mm, up), "C4": (lean_mm, up)}
    tapes = [Tape(2, pair, math.dist(true[pair[0]], true[pair[1]]), 2.0) for pair in combinations(true, 2)]
    return slab, tapes


# How far the diagonals differ when a rectangle leans: dd = 2ab sin e / sqrt(a2 + b2), by hand.
@pytest.mark.parametrize(
    ("length_mm", "depth_mm", "lean_mm", "differ_mm"),
    [
        (4000, 3000, 5.0, 8.0000),
        (20_000, 10_000, 5.0, 8.9443),
        (15_000, 8_000, 5.0, 8.8235),
        (12_000, 9_000, 5.0, 8.0000),
        (12_000, 9_000, 10.0, 16.000),
    ],
)
def test_diagonals_and_square_go_together(
    length_mm: float, depth_mm: float, lean_mm: float, differ_mm: float
) -> None:
    slab, tapes = leaning(length_mm, depth_mm, lean_mm)
    done = adjust(tapes, corners_at(slab), ("C1", "C2"))
    across = {tape.corners: tape.measured_mm for tape in tapes}
    assert across["C1", "C3"] - across["C2", "C4"] == pytest.approx(differ_mm, abs=5e-4)
    first, second, third, fourth = corner_shapes(slab, done)
    # Leaning to the right closes the angles at C1 and C3 and opens the other two.
    turned = -math.degrees(math.asin(lean_mm / depth_mm))
    assert (first.turned_deg, third.turned_deg) == pytest.approx((turned, turned))
    assert (second.turned_deg, fourth.turned_deg) == pytest.approx((-turned, -turned))
    assert abs(first.out_mm) == pytest.approx(lean_mm, abs=1e-3)
    assert first.over_mm == pytest.approx(depth_mm)


def test_five_millimetres_between_the_diagonals_of_twelve_by_nine() -> None:
    """12 x 9 m, diagonals 5 mm apart: 0.01989 degrees, 3.125 mm over 9 m (law of cosines, small angle)."""
    slab = ((0.0, 0.0), (12_000.0, 0.0), (12_000.0, 9_000.0), (0.0, 9_000.0))
    # The two diagonals of a parallelogram: squares add up to 2 (a2 + b2); apart by 5.
    half = 2 * (12_000.0**2 + 9_000.0**2)
    long_mm = (5 + math.sqrt(2 * half - 25)) / 2
    lengths = {
        ("C1", "C2"): 12_000.0,
        ("C2", "C3"): 9_000.0,
        ("C3", "C4"): 12_000.0,
        ("C1", "C4"): 9_000.0,
        ("C1", "C3"): long_mm,
        ("C2", "C4"): long_mm - 5,
    }
    tapes = [Tape(2, pair, length, 2.0) for pair, length in lengths.items()]
    first, *_ = corner_shapes(slab, adjust(tapes, corners_at(slab), ("C1", "C2")))
    assert abs(first.turned_deg) == pytest.approx(0.01989, abs=5e-6)
    assert abs(first.out_mm) == pytest.approx(3.125, abs=5e-4)


def test_equal_sides_and_equal_diagonals_are_a_rectangle() -> None:
    # Math Central, University of Regina, QQ.09.09: 40 x 30 with both diagonals 50 is a rectangle.
    slab = ((0.0, 0.0), (40_100.0, 0.0), (40_000.0, 30_000.0), (0.0, 29_900.0))
    lengths = {("C1", "C2"): 40, ("C2", "C3"): 30, ("C3", "C4"): 40, ("C1", "C4"): 30}
    lengths |= {("C1", "C3"): 50, ("C2", "C4"): 50}
    tapes = [Tape(2, pair, 1000.0 * length, 2.0) for pair, length in lengths.items()]
    shapes = corner_shapes(slab, adjust(tapes, corners_at(slab), ("C1", "C2")))
    assert [each.angle_deg for each in shapes] == pytest.approx([90.0] * 4, abs=1e-6)


def test_adjusted_distances_lie_in_one_plane() -> None:
    # Six distances between four points of a plane have a Cayley-Menger determinant of 0 (a textbook
    # fact). Taped ones seldom do; adjusted ones must.
    slab, tapes = leaning(9000, 6000, 5.0)
    taped = [Tape(2, tape.corners, tape.measured_mm + 4.0 * (-1) ** at, 2.0) for at, tape in enumerate(tapes)]
    adjusted = {each.tape.corners: each.adjusted_mm for each in adjust(taped, corners_at(slab), BASE).tapes}

    def determinant(lengths: Mapping[tuple[str, str], float]) -> float:
        metres = np.ones((5, 5)) - np.eye(5)
        for (first, second), length in lengths.items():
            row, column = int(first[1]), int(second[1])
            metres[row, column] = metres[column, row] = (length / 1000) ** 2
        return float(np.linalg.det(metres))

    assert determinant(adjusted) == pytest.approx(0.0, abs=1e-6)
    assert abs(determinant({tape.corners: tape.measured_mm for tape in taped})) > 0.1


def test_sides_are_told_drawn_and_measured() -> None:
    slab, tapes = leaning(4000, 3000, 5.0)
    stretched = [Tape(2, tape.corners, tape.measured_mm * 1.001, 2.0) for tape in tapes]
    told = sides(slab, adjust(stretched, corners_at(slab), ("C1", "C2")))
    assert [side.name for side in told] == ["C1-C2", "C2-C3", "C3-C4", "C4-C1"]
    assert [side.measured_mm for side in told] == pytest.approx([4004.0, 3003.0, 4004.0, 3003.0], abs=1e-3)


def test_an_inner_corner_is_measured_on_the_side_of_the_slab() -> None:
    slab = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 3000.0), (3000.0, 3000.0), (3000.0, 5000.0), (0.0, 5000.0))
    at = corners_at(slab)
    tapes = [Tape(2, pair, math.dist(at[pair[0]], at[pair[1]]), 2.0) for pair in combinations(at, 2)]
    shapes = corner_shapes(slab, adjust(tapes, at, ("C1", "C2")))
    assert [round(each.angle_deg) for each in shapes] == [90, 90, 90, 270, 90, 90]
