"""The search over states against trying everything, on small houses of every kind."""

from __future__ import annotations

import pytest
from drawn_houses import houses
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tight_jobs import fewest_by_trying_everything, searched

from packseq.house.model import House

quick = settings(
    max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
long = settings(quick, max_examples=400)


def hold_against_the_oracle(house: House, *, with_spots: bool) -> None:
    spots = house.scenario.spots if with_spots else {}
    found = searched(house, spots=spots)
    assert found.proven
    assert found.extra_lifts == fewest_by_trying_everything(house, tuple(spots.values()))


@quick
@given(houses(tops=True), st.booleans())
def test_fewest_lifts_are_those_of_trying_everything(house: House, with_spots: bool) -> None:
    hold_against_the_oracle(house, with_spots=with_spots)


@pytest.mark.slow
@long
@given(houses(most=7, tops=True), st.booleans())
def test_fewest_lifts_of_many_houses_are_those_of_trying_everything(house: House, with_spots: bool) -> None:
    hold_against_the_oracle(house, with_spots=with_spots)
