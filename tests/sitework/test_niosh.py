"""The revised NIOSH lifting equation against its manual's examples and a second, metric source.

Manual: Waters, Putz-Anderson, Garg, DHHS (NIOSH) 94-110, rev. 9/2021. Its examples are in inches and
pounds and round each multiplier to two places; the rows of examples 1, 2, 3 and 5 are from memory, those of
example 4 and of table 5 were read as transcribed by others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import get_args

import pytest

from packseq.sitework.lifts.niosh import (
    Coupling,
    Duration,
    Posture,
    coupling_multiplier,
    duration_of,
    frequency_multiplier,
    height_multiplier,
    lifting_index,
    reach_multiplier,
    recommended_kg,
    travel_multiplier,
    turn_multiplier,
)

KG_TO_LB = 51 / 23  # the manual's own two load constants, not the exact 2.2046
IN_TO_CM = 2.5  # as the manual's metric formulas are: H 10 in and 25 cm, V 30 in and 75 cm


@dataclass(frozen=True)
class Example:
    """H, V and D in inches, A in degrees, F in lifts a minute; RWL in pounds, printed and unrounded."""

    reach: float
    height: float
    travel: float
    turn: float
    rate: float
    coupling: Coupling
    printed: float
    unrounded: float

    @property
    def limit_lb(self) -> float:
        lengths = (self.reach * IN_TO_CM, self.height * IN_TO_CM, self.travel * IN_TO_CM)
        return recommended_kg(Posture(*lengths, self.turn, self.rate, "short", self.coupling)) * KG_TO_LB


# Example 4, package inspection (pp. 44-46): read. Origin and destination.
INSPECTION = (
    Example(10, 22, 37, 0, 3, "fair", 34.9, 34.81),
    Example(20, 59, 37, 0, 3, "fair", 15.2, 15.25),
)
FROM_MEMORY = (
    # Example 1, punch press stock (HM .44 printed for 23 in, where 10/23 = .4348).
    Example(23, 15, 49, 0, 0.2, "fair", 16.3, 16.02),
    Example(23, 64, 49, 0, 0.2, "fair", 14.5, 14.15),
    # Example 2, supply rolls; 3, bags into a hopper; 5, dish-washing, both ends.
    Example(20, 27, 17, 0, 0.2, "poor", 20.9, 20.77),
    Example(18, 15, 21, 45, 0.2, "fair", 18.9, 18.52),
    Example(20, 44, 37, 90, 5, "fair", 11.3, 11.29),
    Example(20, 7, 37, 90, 5, "fair", 9.9, 9.92),
)


@pytest.mark.parametrize("example", [*INSPECTION, *FROM_MEMORY])
def test_the_examples_of_the_manual(example: Example) -> None:
    assert example.limit_lb == pytest.approx(example.unrounded, abs=0.011)
    assert example.limit_lb == pytest.approx(example.printed, abs=0.4)


def test_the_lifting_index_of_example_4() -> None:
    # 26 lb (from memory) over 34.9 and 15.2: 0.7 and 1.7 as printed.
    assert lifting_index(26, INSPECTION[0].limit_lb) == pytest.approx(0.7, abs=0.05)
    assert lifting_index(26, INSPECTION[1].limit_lb) == pytest.approx(1.7, abs=0.05)


def test_the_metric_example() -> None:
    # Canadian Centre for Occupational Health and Safety, "Frequency factor": 23 x 1.00 x .99 x 1.00 x .71 x
    # .13 x 1.00 = 2.1 kg, and 12.1 kg with .75 once the work is redesigned. VM .99 is V = 78.3 cm, AM .71 is
    # 90 degrees (1 - .0032 x 90 = .712), .13 is ten a minute over 8 hours, .75 one a minute.
    busy = Posture(25, 75 + 0.01 / 0.003, 25, 90, 10, "long", "good")
    assert recommended_kg(busy) == pytest.approx(2.1, abs=0.05)
    eased = Posture(25, 75 + 0.01 / 0.003, 25, 90, 1, "long", "good")
    assert recommended_kg(eased) == pytest.approx(12.1, abs=0.1)


def test_the_metric_example_as_it_was_before() -> None:
    # The same page in its newer version: 23 x .93 x .71 x .13 = 1.97 kg.
    # VM .93 with FM .13, which is for hands at or above 75 cm, is V = 98.3 cm.
    higher = Posture(25, 75 + 0.07 / 0.003, 25, 90, 10, "long", "good")
    assert recommended_kg(higher) == pytest.approx(1.97, abs=0.01)


@pytest.mark.parametrize(
    ("multiplier", "inside", "outside", "value"),
    [
        (reach_multiplier, 63, 63.1, 25 / 63),
        (height_multiplier, 175, 175.1, 0.7),
        (travel_multiplier, 175, 175.1, 0.82 + 4.5 / 175),
        (turn_multiplier, 135, 135.1, 1 - 0.0032 * 135),
    ],
)
def test_past_its_limit_a_multiplier_is_nothing(
    multiplier: object, inside: float, outside: float, value: float
) -> None:
    assert callable(multiplier)
    assert multiplier(inside) == pytest.approx(value)
    assert multiplier(outside) == 0


def test_nothing_is_gained_by_less_reach_or_travel_than_25_cm() -> None:
    assert reach_multiplier(10) == reach_multiplier(25) == 1
    assert travel_multiplier(0) == travel_multiplier(25) == pytest.approx(1)


@pytest.mark.parametrize(
    ("rate", "duration", "height", "expected"),
    [
        # Table 5 (p. 15), its corners and the rows where a column ends.
        (0.2, "short", 20, 1.00),
        (0.01, "long", 20, 0.85),
        (12, "short", 20, 0.37),
        (13, "short", 20, 0.00),
        (15, "short", 80, 0.28),
        (10, "moderate", 20, 0.26),
        (11, "moderate", 20, 0.00),
        (12, "moderate", 80, 0.21),
        (8, "long", 20, 0.18),
        (9, "long", 20, 0.00),
        (10, "long", 80, 0.13),
        (11, "long", 80, 0.00),
        (15.1, "short", 80, 0.00),
        # Between two rows the higher rate counts.
        (2.5, "long", 20, 0.55),
    ],
)
def test_the_frequency_table(rate: float, duration: Duration, height: float, expected: float) -> None:
    assert frequency_multiplier(rate, duration, height) == expected


def test_the_frequency_table_never_rises_with_the_rate() -> None:
    rates = [0.2, 0.5, *range(1, 17)]
    for duration in get_args(Duration):
        for height in (20, 80):
            row = [frequency_multiplier(rate, duration, height) for rate in rates]
            assert row == sorted(row, reverse=True)


def test_coupling() -> None:
    # Fair .95 below 75 cm and 1.0 above: example 4, read. The rest from memory.
    assert coupling_multiplier("fair", 74.9) == 0.95
    assert coupling_multiplier("fair", 75) == 1.0
    assert coupling_multiplier("poor", 74.9) == coupling_multiplier("poor", 75) == 0.90
    assert coupling_multiplier("good", 10) == 1.0


def test_durations_and_days_too_long() -> None:
    assert [duration_of(hours) for hours in (0.5, 1, 1.5, 2, 2.1, 8)] == [
        "short",
        "short",
        "moderate",
        "moderate",
        "long",
        "long",
    ]
    with pytest.raises(ValueError, match="up to 8 hours"):
        duration_of(8.5)


def test_a_lift_that_is_none_has_an_endless_index() -> None:
    assert lifting_index(20, recommended_kg(Posture(70, 40, 30))) == math.inf
