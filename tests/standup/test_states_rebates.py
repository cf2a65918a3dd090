"""Rebates reckoned move by move, against each state reckoned anew."""

from __future__ import annotations

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from opened_states import Laid, drawn_prices, laid_open, real_plan

from packseq.standup.states.contents import Spots
from packseq.standup.states.rebates import Rebates


@given(laid_open(), st.data(), st.integers(0, 2**32))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_move_changes_the_rebate_to_that_of_the_state_it_leads_to(
    laid: Laid, data: st.DataObject, seed: int
) -> None:
    plan = real_plan(laid.moves, np.random.default_rng(seed))
    assume(plan is not None)
    assert plan is not None
    spots = Spots(laid.moves)
    rebates = Rebates(spots, data.draw(drawn_prices(laid.moves)))
    contents = spots.empty()
    rebate = rebates.of(contents)
    for move in plan:
        after, can = spots.after(contents, np.array([move]))
        assert can.all()
        rebate = rebates.after(rebate, contents, after, laid.moves.frame[[move]])
        assert rebate.tolist() == rebates.of(after).tolist()
        assert rebate.max() <= rebates.most
        contents = after
