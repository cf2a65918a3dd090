"""The cheapest way on, against networkx on the same graph of nodes and positions."""

from __future__ import annotations

import networkx as nx
import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import Laid, drawn_prices, laid_open, real_plan, sought

from packseq.standup.states.moves import FAR, ON_THE_LINE, Moves
from packseq.standup.states.prices import Market
from packseq.standup.states.relaxed import Relaxed, walk_from

Place = tuple[int, int]
END = (-1, -1)


def graph_of(moves: Moves, priced: np.ndarray[tuple[int], np.dtype[np.int64]]) -> nx.DiGraph[Place]:
    """Return an arc for each move from each position that the team can be at, the cheapest of several."""
    graph: nx.DiGraph[Place] = nx.DiGraph()
    graph.add_node(END)
    for node in range(moves.nodes):
        rows = range(int(moves.first_move[node]), int(moves.first_move[node + 1]))
        for position in range(1 + len(moves.yard.spots)):
            graph.add_node((node, position))
            if moves.standing[node].tolist() == moves.yard.frames.all.tolist():
                graph.add_edge((node, position), END, weight=0)
            walks = walk_from(moves, node, position)
            for move in rows:
                if walks[moves.place[move]] < FAR:
                    ahead = (int(moves.target[move]), int(moves.position[move]))
                    weight = int(walks[moves.place[move]]) + int(priced[move])
                    known = graph.get_edge_data((node, position), ahead, {"weight": weight})["weight"]
                    graph.add_edge((node, position), ahead, weight=min(weight, known))
    return graph


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_what_is_left_to_pay_is_the_shortest_path(laid: Laid, data: st.DataObject) -> None:
    moves = laid.moves
    onward = Market(moves).onward(data.draw(drawn_prices(moves)))
    graph = graph_of(moves, onward.priced)
    shortest = nx.single_source_bellman_ford_path_length(graph.reverse(), END)
    for (node, position), left in shortest.items():
        if (node, position) != END:
            assert onward.from_position[node, position] == left
    assert onward.whole == shortest.get((0, ON_THE_LINE), onward.whole)


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_the_cheapest_relaxed_plan_costs_what_is_left_to_pay(laid: Laid, data: st.DataObject) -> None:
    moves, relaxed = laid.moves, Relaxed(laid.moves)
    onward = Market(moves).onward(data.draw(drawn_prices(moves)))
    if onward.whole > FAR // 2:
        return
    node, position, cost = 0, ON_THE_LINE, 0
    for move in relaxed.cheapest(onward):
        assert moves.node[move] == node
        cost += int(walk_from(moves, node, position)[moves.place[move]] + onward.priced[move])
        node, position = int(moves.target[move]), int(moves.position[move])
    assert cost == onward.whole
    assert moves.standing[node].tolist() == moves.yard.frames.all.tolist()


@given(laid_open(), st.data())
@settings(max_examples=15, deadline=None)
def test_worth_keeping_are_the_moves_of_relaxed_plans_that_cost_less(laid: Laid, data: st.DataObject) -> None:
    moves, relaxed = laid.moves, Relaxed(laid.moves)
    onward = Market(moves).onward(data.draw(drawn_prices(moves)))
    graph = graph_of(moves, onward.priced)
    reached = nx.single_source_bellman_ford_path_length(graph, (0, ON_THE_LINE))
    most = onward.whole + data.draw(st.integers(0, 40_000))
    kept = relaxed.worth_keeping(onward, most)
    for move in range(len(moves)):
        node, ahead = int(moves.node[move]), (int(moves.target[move]), int(moves.position[move]))
        left = int(onward.from_position[ahead])
        ways = [
            reached[node, position] + int(walk_from(moves, node, position)[moves.place[move]])
            for position in range(1 + len(moves.yard.spots))
            if (node, position) in reached
        ]
        cheapest = min((way for way in ways if way < FAR // 2), default=int(FAR))
        assert kept[move] == (cheapest + int(onward.priced[move]) + left < most)


@given(laid_open(), st.data())
@settings(max_examples=20, deadline=None)
def test_no_move_of_a_better_plan_is_dropped(laid: Laid, data: st.DataObject) -> None:
    moves = laid.moves
    prices = data.draw(drawn_prices(moves))
    best = sought(moves)
    if best.moves is None or best.cost is None:
        return
    onward = Market(moves).onward(prices)
    kept = Relaxed(moves).worth_keeping(onward, best.cost + 1 + prices.allowed)
    assert kept[best.moves].all()
    fewer = moves.only(kept)
    assert sought(fewer, prices, most=best.cost + 1).cost == best.cost
    by_chance = real_plan(moves, np.random.default_rng(data.draw(st.integers(0, 99))))
    assert by_chance is None or len(by_chance) >= len(laid.yard.frames)
