"""Tilting a frame through an opening, against the rectangle-in-rectangle theorem."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from packseq.routes.tilt import fits


def carver_least_short_side(p: float, q: float, a: float) -> float:
    """Return the least b so that p x q (p > a) fits in a x b.

    Carver, "Solution to problem E 1225", American Mathematical Monthly 64 (1957) 114-116; Wetzel,
    "Rectangles in rectangles", Mathematics Magazine 73 (2000) 204-211.
    """
    return (2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)


@pytest.mark.parametrize(
    ("height", "thickness", "headroom", "least_width"),
    [
        # 10 x 1 in a hole 9 long: 6.1657570, by the theorem and by turning the rectangle step by step.
        (10.0, 1.0, 9.0, 6.1657570),
        # A frame 2.7 m x 90 mm under 2.4 m headroom: 1.3972711 m.
        (2.7, 0.09, 2.4, 1.3972711),
        # 2400 x 90 under a 2040 head: r2 = 5768100, (2 x 2400 x 90 x 2040 + 5751900 x
        # sqrt(5768100 - 4161600)) / 5768100 = (881280000 + 5751900 x 1267.4778) / 5768100 = 1416.70318.
        (2400.0, 90.0, 2040.0, 1416.70318),
    ],
)
def test_least_width_agrees_with_the_theorem(
    height: float, thickness: float, headroom: float, least_width: float
) -> None:
    assert carver_least_short_side(height, thickness, headroom) == pytest.approx(least_width, rel=1e-7)
    assert fits(height, thickness, least_width * (1 + 1e-6), headroom)
    assert not fits(height, thickness, least_width * (1 - 1e-6), headroom)


def test_the_theorem_in_its_other_form() -> None:
    # At the least width ((a + b) / (p + q))^2 + ((a - b) / (p - q))^2 = 2 exactly.
    width = carver_least_short_side(10, 1, 9)
    assert ((9 + width) / 11) ** 2 + ((9 - width) / 9) ** 2 == pytest.approx(2, abs=1e-12)


@pytest.mark.parametrize(
    ("height", "thickness", "width", "headroom", "expected"),
    [
        (2000.0, 90.0, 90.0, 2000.0, True),  # upright, to the hair
        (2000.0, 90.0, 89.0, 2000.0, False),
        (2000.0, 90.0, 2000.0, 90.0, True),  # flat, to the hair
        (2000.0, 90.0, -1.0, 3000.0, False),  # clearances took all the width
        (2400.0, 800.0, 790.0, 2380.0, False),  # thicker than the hole is wide: no tilt helps
        (2400.0, 90.0, 760.0, 2040.0, False),  # an 860 door leaves 760 clear; 1417 would be needed
    ],
)
def test_edges(height: float, thickness: float, width: float, headroom: float, *, expected: bool) -> None:
    assert fits(height, thickness, width, headroom) is expected


sides = st.floats(min_value=10.0, max_value=4000.0)


@given(sides, sides, sides, sides)
@example(2700.0, 90.0, 1400.0, 2400.0)
def test_agrees_with_turning_the_frame_step_by_step(
    height: float, thickness: float, width: float, headroom: float
) -> None:
    steps = 2000
    spare = max(
        min(
            headroom - height * math.sin(angle) - thickness * math.cos(angle),
            width - height * math.cos(angle) - thickness * math.sin(angle),
        )
        for angle in (step * math.pi / 2 / steps for step in range(steps + 1))
    )
    # A step turns the far corner by at most hypot(h, t) x (pi / 2 / 2000) = 5657 x 0.000785 = 4.44 mm.
    assume(spare >= 0 or spare < -4.5)
    assert fits(height, thickness, width, headroom) is (spare >= 0)
