"""What each move costs, against the routes asked for that very moment."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import SCALE, Laid, laid_open

from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, NOBODY, ON_THE_LINE, Moves


def standing_at(laid: Laid, node: int) -> frozenset[str]:
    return laid.yard.frames.names_in(laid.moves.standing[node])


def mm_cost(laid: Laid, start: int | str, end: int | str, carried: str | None, node: int) -> int:
    """Return the cost of a leg between places (by number) and lines (by name) as the routes say it."""
    yard, frames = laid.yard, laid.house.scenario.frames
    stops = [
        yard.stops[where] if isinstance(where, int) else yard.lines[yard.frames.number[where]]
        for where in (start, end)
    ]
    frame = None if carried is None else frames[carried]
    leg = yard.legs.routes.leg(stops[0], stops[1], frame, standing_at(laid, node))
    return int(FAR) if leg is None else leg.mm * SCALE.mm_worth


def hold_move(laid: Laid, move: int) -> None:
    moves, yard = laid.moves, laid.yard
    node, target, place = int(moves.node[move]), int(moves.target[move]), int(moves.place[move])
    name = yard.frames.names[int(moves.frame[move])]
    spot, kind = int(moves.spot[move]), Kind(int(moves.kind[move]))
    last = int(moves.last[node])
    spot_place = len(yard.packs) + spot
    if kind is Kind.ASIDE:
        assert place == yard.pack_of[yard.frames.number[name]]
        assert (moves.position[move], moves.last[target]) == (1 + spot, last)
        expected = mm_cost(laid, place, spot_place, name, node) + SCALE.lift_worth
        assert not yard.frames.names_in(yard.across_spot[spot]) & standing_at(laid, node)
        assert yard.spots[spot].takes(laid.house.scenario.frames[name])
    else:
        assert (moves.position[move], moves.last[target]) == (ON_THE_LINE, yard.frames.number[name])
        assert place == (spot_place if kind is Kind.OFF_SPOT else yard.pack_of[yard.frames.number[name]])
        assert (spot == NOBODY) == (kind is Kind.STRAIGHT)
        broken = last != NOBODY and yard.frames.names[last] not in laid.house.touches[name]
        expected = mm_cost(laid, place, name, name, node) + broken
    assert moves.cost[move] == expected < FAR


def walks_from(moves: Moves, laid: Laid, node: int) -> None:
    yard, last = laid.yard, int(moves.last[node])
    for place in range(len(yard.stops)):
        if last == NOBODY:
            assert moves.line_to_place[node, place] == 0
        else:
            name = yard.frames.names[last]
            assert moves.line_to_place[node, place] == mm_cost(laid, name, place, None, node)
        for spot in range(len(yard.spots)):
            walk = moves.spot_to_place[moves.spot_class[node], spot, place]
            assert walk == mm_cost(laid, len(yard.packs) + spot, place, None, node)


@given(laid_open(), st.data())
@settings(max_examples=25, deadline=None)
def test_moves_and_walks_cost_what_the_routes_of_the_moment_say(laid: Laid, data: st.DataObject) -> None:
    moves = laid.moves
    assert moves.node.tolist() == sorted(moves.node.tolist())
    for move in data.draw(st.lists(st.integers(0, len(moves) - 1), max_size=30)):
        hold_move(laid, move)
    for node in data.draw(st.lists(st.integers(0, moves.nodes - 1), max_size=6)):
        walks_from(moves, laid, node)


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_some_of_the_moves_are_those_moves(laid: Laid, data: st.DataObject) -> None:
    moves = laid.moves
    wanted = moves.cost % data.draw(st.integers(2, 5)) != 0
    some = moves.only(wanted)
    assert len(some) == int(wanted.sum())
    assert some.nodes == moves.nodes
    for node in range(moves.nodes):
        here = slice(some.first_move[node], some.first_move[node + 1])
        assert set(some.node[here].tolist()) <= {node}
