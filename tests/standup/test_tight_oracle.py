"""The search over states against trying everything, on small houses of every kind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from drawn_houses import houses
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from oracle import State
from tight_houses import tight_houses
from tight_jobs import LIMIT_S, WORK, fewest_by_trying_everything, hold_to_the_check, searched

from packseq.check.job import Lift
from packseq.check.state import Heap
from packseq.house.model import House
from packseq.standup.tight.fewest import fewest_by_states

quick = settings(
    max_examples=40, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
long = settings(quick, max_examples=400)


def hold_against_the_oracle(house: House, *, with_spots: bool) -> None:
    if not with_spots:
        house = replace(house, scenario=replace(house.scenario, spots={}))
    found = searched(house)
    assert found.proven
    assert found.extra_lifts == fewest_by_trying_everything(house)


@quick
@given(houses(tops=True), st.booleans())
def test_fewest_lifts_are_those_of_trying_everything(house: House, with_spots: bool) -> None:
    hold_against_the_oracle(house, with_spots=with_spots)


@quick
@given(tight_houses())
def test_fewest_lifts_of_tight_sites_are_those_of_trying_everything(house: House) -> None:
    hold_against_the_oracle(house, with_spots=True)


@pytest.mark.slow
@long
@given(tight_houses(most=8))
def test_fewest_lifts_of_many_tight_sites_are_those_of_trying_everything(house: House) -> None:
    hold_against_the_oracle(house, with_spots=True)


def spot_crossed(lift: Lift) -> Iterator[str]:
    """Forbid what a frame E1 that crosses spot S would: such a rule can be broken by standing too early."""
    if lift.target is not None and lift.target.name == "S" and "E1" in lift.state.standing:
        yield "E1 stands across S"
    if (
        lift.target is None
        and lift.frame.name == "E1"
        and lift.state.lying(Heap(lift.job.spots["S"].kind, "S"))
    ):
        yield "E1 would stand across what lies on S"


@settings(quick, max_examples=20)
@given(tight_houses(most=6, spots=1))
def test_a_further_rule_is_kept_and_standing_may_wait_for_it(house: House) -> None:
    found = fewest_by_states(
        house,
        limit_s=LIMIT_S,
        limit_work=WORK,
        blocks=lambda name: name == "E1",
        further={"spot-crossed": spot_crossed},
    )
    hold_to_the_check(house, found)

    def forbids(state: State, text: str) -> bool:
        on_spot = text.endswith(">S") and "E1" in state.stood
        return on_spot or (text == "E1" and bool(state.spots[0]))

    assert found.proven
    assert found.extra_lifts == fewest_by_trying_everything(house, forbids)


@pytest.mark.slow
@long
@given(houses(most=7, tops=True), st.booleans())
def test_fewest_lifts_of_many_houses_are_those_of_trying_everything(house: House, with_spots: bool) -> None:
    hold_against_the_oracle(house, with_spots=with_spots)
