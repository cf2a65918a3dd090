"""How a set-out is checked: rectangles and their diagonals, the 3-4-5 triangle."""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Point, Polygon
from sitework_houses import demo, lines_of

from packseq.sitework.setout.model import Rectangle, Triangle


def test_every_diagonal_runs_from_crossing_to_crossing() -> None:
    done = lines_of(demo("l-shaped"))
    slab = Polygon(demo("l-shaped").scenario.slab)
    for rectangle in done.rectangles:
        for ends in rectangle.diagonals:
            points = []
            for name in ends:
                first, second = (done.line(int(number)) for number in name.split("/"))
                point = first.crossing(second)
                assert point is not None
                assert slab.covers(Point(point))
                points.append(point)
            assert math.dist(*points) == pytest.approx(rectangle.diagonal_mm)


def test_the_main_rectangle_never_reaches_past_the_slab() -> None:
    # The L's garage line would close a larger rectangle, but its corner would be in the court.
    done = lines_of(demo("l-shaped"))
    assert done.main is not None
    # x from 190 to 17810, y from 7390 to 14810.
    assert (done.main.along_mm, done.main.across_mm) == pytest.approx((17620.0, 7420.0))


# The long side measured 5, 3 and 5 mm too long on 3-4-5 m and 9-12-15 m: mm off square in 10 m, by the law of
# cosines, worked out apart from this code: 90.1194, 90.0716 and 90.0398 degrees.
@pytest.mark.parametrize(
    ("unit_mm", "wrong_mm", "off_mm"), [(1000.0, 5.0, 20.84), (1000.0, 3.0, 12.50), (3000.0, 5.0, 6.95)]
)
def test_what_a_wrong_long_side_turns_the_line_by(unit_mm: float, wrong_mm: float, off_mm: float) -> None:
    triangle = Triangle(1, 2, (0.0, 0.0), 4 * unit_mm, 3 * unit_mm, unit_mm, ((0.0, 0.0), (0.0, 0.0)))
    assert abs(triangle.out_of_square_mm(wrong_mm, 10_000.0)) == pytest.approx(off_mm, abs=0.005)


def test_the_diagonal_of_twenty_by_thirty_feet() -> None:
    # 36.0555 ft: sqrt(20^2 + 30^2), a question asked by builders, worked by hand; 30 x 40 ft make 50
    # (inchcalculator.com, squaring page).
    foot = 304.8
    for along, across, diagonal in ((20, 30, 36.0555), (30, 40, 50)):
        rectangle = Rectangle(4, (1, 4), (2, 3), along * foot, across * foot)
        assert rectangle.diagonal_mm / foot == pytest.approx(diagonal, abs=0.00005)


def test_multiples_of_three_four_five_are_square() -> None:
    # 6-8-10, 9-12-15 and 15-20-25: inchcalculator.com and a framing text at boulderlibrary.net.
    for unit in (2, 3, 5):
        triangle = Triangle(1, 2, (0.0, 0.0), 4.0 * unit, 3.0 * unit, unit, ((0.0, 0.0), (0.0, 0.0)))
        assert triangle.long_side_mm == 5 * unit
        assert triangle.out_of_square_mm(0.0, 10_000.0) == pytest.approx(0.0, abs=1e-9)


def test_the_triangle_is_the_largest_that_lies_on_the_slab() -> None:
    done = lines_of(demo("three-bedroom"))
    slab = Polygon(demo("three-bedroom").scenario.slab)
    for each in done.triangles:
        assert each.along_reference_mm**2 + each.along_square_mm**2 == each.long_side_mm**2
        assert slab.covers(LineString([each.corner, *each.leg_ends, each.corner]))
    # From x 190 or 14810 and y 8210 down to the slab edge at 0 there is 8210: 3 units of 2736, in whole
    # hundreds 2700; 4 x 2700 = 10 800 fits along the 14 810. The other way about 4 units of 2052.
    assert [each.unit_mm for each in done.triangles] == [2700.0, 2700.0]
