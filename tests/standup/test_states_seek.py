"""The search through true states: the best plan if nothing is dropped, else a bound that holds."""

from __future__ import annotations

from unittest.mock import patch

from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import SCALE, Laid, cost_of, drawn_prices, laid_open, sought
from small_house import steps
from standup_jobs import checked

from packseq.plan.build import build_plan
from packseq.standup.states import seek
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, Moves


def text_of(moves: Moves, plan: list[int]) -> str:
    words = []
    for move in plan:
        name = moves.yard.frames.names[int(moves.frame[move])]
        aside = moves.kind[move] == Kind.ASIDE
        words.append(f"{name}>{moves.yard.spots[int(moves.spot[move])].name}" if aside else name)
    return " ".join(words)


@given(laid_open(), st.integers(1, 3))
@settings(max_examples=15, deadline=None)
def test_states_expanded_in_pieces_lead_to_the_same_plan(laid: Laid, size: int) -> None:
    whole = sought(laid.moves)
    with patch.object(seek, "_PIECE", size):
        assert sought(laid.moves) == whole


@given(laid_open())
@settings(max_examples=15, deadline=None)
def test_a_plan_found_keeps_every_rule_and_costs_what_it_says(laid: Laid) -> None:
    found = sought(laid.moves)
    if found.moves is None:
        return
    scenario = laid.house.scenario
    plan = build_plan(
        laid.house,
        steps(text_of(laid.moves, found.moves)),
        spots=scenario.spots,
        places={name: pack.places[0] for name, pack in scenario.packs.items()},
    )
    # A frame alone in its run may be stood first in either direction; the plan then tells the first.
    cost = checked(laid.house, plan).cost if plan.direction == "anticlockwise" else None
    assert found.cost == cost_of(laid.moves, found.moves)
    if cost is not None:
        merged = SCALE.lift_worth * cost.extra_lifts + SCALE.mm_worth * cost.walking_mm + cost.breaks
        assert found.cost == merged


@given(laid_open(), st.data())
@settings(max_examples=20, deadline=None)
def test_prices_change_nothing_of_what_is_found(laid: Laid, data: st.DataObject) -> None:
    at_none, at_some = sought(laid.moves), sought(laid.moves, data.draw(drawn_prices(laid.moves)))
    assert (at_some.cost, at_some.bound) == (at_none.cost, at_none.bound)
    assert at_none.bound == (int(FAR) if at_none.cost is None else at_none.cost)


@given(laid_open(), st.data(), st.integers(1, 8))
@settings(max_examples=15, deadline=None)
def test_a_search_that_drops_states_still_gives_a_bound_that_holds(
    laid: Laid, data: st.DataObject, width: int
) -> None:
    best = sought(laid.moves)
    narrow = sought(laid.moves, data.draw(drawn_prices(laid.moves)), width=width)
    if best.cost is None:
        assert narrow.cost is None
        return
    assert narrow.bound <= best.cost
    assert narrow.cost is None or narrow.cost >= best.cost


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_only_plans_that_cost_less_than_a_known_one_are_looked_for(laid: Laid, data: st.DataObject) -> None:
    best = sought(laid.moves)
    if best.cost is None:
        return
    prices = data.draw(drawn_prices(laid.moves))
    assert sought(laid.moves, prices, most=best.cost).cost is None
    assert sought(laid.moves, prices, most=best.cost).bound == best.cost
    assert sought(laid.moves, prices, most=best.cost + 1).cost == best.cost
