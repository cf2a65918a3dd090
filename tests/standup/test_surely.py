"""What surely comes later, by way of others too, against networkx on the same arcs."""

from __future__ import annotations

from graphlib import CycleError

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packseq.standup.surely import carried_on

PLACES = st.integers(0, 7)
ARCS = st.dictionaries(PLACES, st.sets(PLACES))


@given(drawn=ARCS)
def test_arcs_are_carried_on_as_far_as_they_lead_or_round_a_cycle_refused(drawn: dict[int, set[int]]) -> None:
    arcs = {place: drawn.get(place, set()) for place in range(8)}
    graph = nx.DiGraph([(first, last) for first, following in arcs.items() for last in following])
    graph.add_nodes_from(arcs)
    if nx.is_directed_acyclic_graph(graph):
        assert carried_on(arcs) == {place: nx.descendants(graph, place) for place in arcs}
    else:
        with pytest.raises(CycleError):
            carried_on(arcs)


@given(drawn=ARCS)
def test_arcs_that_lead_upward_are_carried_on(drawn: dict[int, set[int]]) -> None:
    # No cycle can arise, so here every draw compares what is carried on.
    arcs = {place: {last for last in drawn.get(place, ()) if last > place} for place in range(8)}
    graph = nx.DiGraph([(first, last) for first, following in arcs.items() for last in following])
    graph.add_nodes_from(arcs)
    assert carried_on(arcs) == {place: nx.descendants(graph, place) for place in arcs}
