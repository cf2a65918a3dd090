"""The closing error against traverses worked in print.

Source: J. Mahun, Open Access Surveying Library, jerrymahun.com: example A "99-soln-ss-trav-adj-2",
example B "49-travcomps-chap-i?start=2"; example C: "Compass rule", scribd.com document 493615208.
Courses have no thickness, so walls that thin (1e-9 of a unit) stand in for them, and feet for mm.
"""

from __future__ import annotations

import math

import pytest

from packseq.scenario.walkround.blame import closing_error, suspects
from packseq.scenario.walkround.headings import parse_heading, unit
from packseq.scenario.walkround.meeting import Bar
from packseq.scenario.walkround.rows import LayoutRow

# Azimuth clockwise from north (degrees, minutes, seconds), length in feet, latitude and departure in print.
EXAMPLE_A = (
    ("A-B", (226, 54, 23), 639.15, -436.662, -466.732),
    ("B-C", (0, 0, 0), 523.69, 523.690, 0.000),
    ("C-D", (235, 2, 29), 409.54, -234.660, -335.645),
    ("D-A", (79, 35, 2), 815.93, 147.517, 802.484),
)
# Example B prints latitudes and departures, from which the courses' directions follow.
EXAMPLE_B = (
    ("A-B", 472.68, -176.357, -438.548),
    ("B-C", 216.13, 203.395, -73.093),
    ("C-D", 276.52, 192.357, 198.651),
    ("D-A", 382.24, -219.312, 313.065),
)
EXAMPLE_C = (("N76E", 80.40), ("S36E", 46.30), ("S61W", 72.80), ("N38W", 68.00))


def row(name: str, number: int, length: float) -> LayoutRow:
    return LayoutRow(
        name=name,
        number=number,
        level=1,
        heading=None,
        length_mm=length,
        to=None,
        before=None,
        follows=number > 2,
        at_mm=None,
        end=None,
        through="last",
        gap_mm=0.0,
        start=None,
        height_mm=None,
        thickness_mm=None,
        location=None,
        mass_kg=None,
        sound=True,
    )


def walked(courses: list[tuple[str, float, float]]) -> tuple[list[LayoutRow], list[Bar]]:
    """Return courses given by name, direction anticlockwise from east, and length."""
    rows, bars = [], []
    start = (0.0, 0.0)
    for number, (name, degrees, length) in enumerate(courses, start=2):
        bar = Bar(name, start, degrees, length, 1e-9)
        rows.append(row(name, number, length))
        bars.append(bar)
        start = bar.finish
    return rows, bars


def example_a(**mistakes: float) -> tuple[list[LayoutRow], list[Bar]]:
    courses = []
    for name, (degrees, minutes, seconds), length, _, _ in EXAMPLE_A:
        azimuth = degrees + minutes / 60 + seconds / 3600
        courses.append((name, (90 - azimuth) % 360, length + mistakes.get(name, 0.0)))
    return walked(courses)


def test_example_a_latitudes_and_departures() -> None:
    _, bars = example_a()
    for bar, (_, _, _, latitude, departure) in zip(bars, EXAMPLE_A, strict=True):
        # In print to 0.001 ft.
        assert bar.along[1] * bar.length_mm == pytest.approx(latitude, abs=0.001)
        assert bar.along[0] * bar.length_mm == pytest.approx(departure, abs=0.001)


def test_example_a_closing_error_and_precision() -> None:
    rows, bars = example_a()
    east, north = closing_error(rows, bars)
    # In print: sums -0.115 and +0.107, closure 0.157, precision 1 in 15 200, from rounded courses.
    assert (north, east) == pytest.approx((-0.115, 0.107), abs=0.0015)
    closure = math.hypot(east, north)
    assert closure == pytest.approx(0.157, abs=0.0015)
    assert sum(bar.length_mm for bar in bars) / closure == pytest.approx(15_200, rel=0.01)


def test_example_b_closing_error() -> None:
    courses = [
        (name, math.degrees(math.atan2(latitude, departure)) % 360, length)
        for name, length, latitude, departure in EXAMPLE_B
    ]
    east, north = closing_error(*walked(courses))
    # Sums in print: latitudes +0.083, departures +0.075; lengths are in print to 0.01.
    assert (north, east) == pytest.approx((0.083, 0.075), abs=0.012)


def test_example_c_closing_error_from_bearings() -> None:
    courses = []
    for bearing, length in EXAMPLE_C:
        heading = parse_heading(bearing)
        assert heading is not None
        courses.append((bearing, heading.degrees, length))
    east, north = closing_error(*walked(courses))
    # In print: sum of latitudes .285, of departures -.311, each of four courses rounded to .001.
    assert (north, east) == pytest.approx((0.285, -0.311), abs=4 * 0.0005)


@pytest.mark.parametrize("name", ["A-B", "B-C", "C-D", "D-A"])
def test_the_course_measured_ten_feet_short_is_found(name: str) -> None:
    # With the small error of the survey itself taken out, so that only the mistake is left.
    small = closing_error(*example_a())
    rows, bars = example_a(**{name: -10.0})
    error = closing_error(rows, bars)
    mistake = (error[0] - small[0], error[1] - small[1])
    assert mistake == pytest.approx(
        tuple(-10 * part for part in unit(next(bar.heading_deg for bar in bars if bar.name == name))),
        abs=1e-5,
    )
    found = suspects(rows, bars, mistake)
    # C-D and A-B lie within 8.1 degrees of each other: over 10 ft the other one misses by 0.1 ft,
    # so both come out; every course that does not lie that way is cleared.
    alike = {"A-B", "C-D"} if name in {"A-B", "C-D"} else {name}
    assert {suspect.row.name for suspect in found} <= alike
    (own,) = [suspect for suspect in found if suspect.row.name == name]
    true_length = next(length for course, _, length, _, _ in EXAMPLE_A if course == name)
    assert own.right_mm == pytest.approx(true_length, abs=1e-4)
