"""Team lifting by HSE guidance L23 and two worked examples of it."""

from __future__ import annotations

import pytest

from packseq.sitework.lifts.teams import team_for, team_limit_kg


@pytest.mark.parametrize(
    ("people", "each", "expected"),
    [
        (2, 20, 26.67),  # Network Rail, "Lifting and handling in teams": 26.6 kg, not 40
        (2, 50, 66.7),  # a training provider's example of L23: 66 kg
        (3, 50, 75.0),  # the same: 75 kg
        (2, 25, 33.33),  # by hand: 2 x 25 x 2/3
        (3, 25, 37.5),  # by hand: 3 x 25 / 2
        (4, 25, 50.0),  # by hand with our own carry-on of one half: no source
        (1, 25, 25.0),
    ],
)
def test_what_a_team_lifts(people: int, each: float, expected: float) -> None:
    limit = team_limit_kg(people, each)
    assert limit == pytest.approx(expected, abs=0.05)


def test_more_than_four_is_unlikely_to_work() -> None:
    assert team_limit_kg(5, 25) is None
    assert team_limit_kg(4, 25) is not None


@pytest.mark.parametrize(
    ("mass", "team"), [(10, 2), (33.3, 2), (33.4, 3), (37.5, 3), (37.6, 4), (50, 4), (50.1, None)]
)
def test_the_smallest_team(mass: float, team: int | None) -> None:
    # At 25 kg each: 33.3, 37.5 and 50 kg, see above.
    assert team_for(mass, 25) == team
