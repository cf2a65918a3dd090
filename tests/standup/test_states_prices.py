"""Prices: whatever they are, no real plan costs less than the bound that they give."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import Laid, cost_of, drawn_prices, laid_open, real_plan, sought

from packseq.standup.states.moves import FAR
from packseq.standup.states.prices import Market, no_prices


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_no_plan_costs_less_than_the_bound_at_any_prices(laid: Laid, data: st.DataObject) -> None:
    moves = laid.moves
    prices = data.draw(drawn_prices(moves))
    best = sought(moves)
    if best.cost is not None:
        assert best.cost < FAR
        assert Market(moves).onward(prices).whole - prices.allowed <= best.cost
        assert Market(moves).onward(no_prices(moves)).whole <= best.cost
    else:
        assert best.bound == FAR


@given(laid_open(), st.data(), st.integers(0, 999))
@settings(max_examples=15, deadline=None)
def test_prices_make_no_real_plan_dearer_than_they_allow(
    laid: Laid, data: st.DataObject, chance: int
) -> None:
    # By spot a real plan pays back what it got; of each statement it makes no more moves than allowed.
    moves, dice = laid.moves, np.random.default_rng(chance)
    prices = data.draw(drawn_prices(moves))
    priced = Market(moves).onward(prices).priced
    best = sought(moves).cost
    for _ in range(5):
        plan = real_plan(moves, dice)
        if plan is not None:
            assert best is not None
            assert best <= cost_of(moves, plan)
            assert 0 <= int((priced[plan] - moves.cost[plan]).sum()) <= prices.allowed


@given(laid_open(), st.integers(1, 30))
@settings(max_examples=15, deadline=None)
def test_raised_prices_give_a_bound_that_holds_and_is_no_worse(laid: Laid, rounds: int) -> None:
    moves, market = laid.moves, Market(laid.moves)
    at_first = market.onward(no_prices(moves)).whole
    best = sought(moves)
    if best.cost is None:
        return
    prices, bound = market.raised(no_prices(moves), best.cost, rounds, lambda _: False)
    assert at_first <= bound <= best.cost
    assert market.onward(prices).whole - prices.allowed == bound
