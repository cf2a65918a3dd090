"""Groups and rings of touching frames, against networkx on the same pairs."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from packseq.house.links import among, groups, linked, one_ring

NAMES = "ABCDEFG"
PAIRS = st.lists(st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)), max_size=9)


def graph_of(pairs: list[tuple[str, str]]) -> nx.Graph[str]:
    graph: nx.Graph[str] = nx.Graph()
    graph.add_nodes_from(NAMES)
    graph.add_edges_from(pairs)
    return graph


@given(pairs=PAIRS, some=st.sets(st.sampled_from(NAMES)))
def test_groups_are_the_connected_parts_of_the_graph(pairs: list[tuple[str, str]], some: set[str]) -> None:
    links, graph = linked(NAMES, pairs), graph_of(pairs)
    assert groups(links) == sorted(sorted(part) for part in nx.connected_components(graph))
    part = among(links, some)
    assert groups(part) == sorted(sorted(each) for each in nx.connected_components(graph.subgraph(some)))


@given(order=st.permutations(NAMES), size=st.integers(3, len(NAMES)))
def test_a_ring_comes_back_in_its_order(order: list[str], size: int) -> None:
    ring = order[:size]
    found = one_ring(linked(ring, zip(ring, [*ring[1:], ring[0]], strict=True)))
    assert found is not None
    begin = ring.index(found[0])
    onward = [*ring[begin:], *ring[:begin]]
    assert found in (onward, [onward[0], *onward[:0:-1]])


def test_what_is_no_ring_has_no_order() -> None:
    assert one_ring({}) is None
    assert one_ring(linked("ABC", ["AB", "BC"])) is None
    assert one_ring(linked("ABCD", ["AB", "BC", "CA", "AD"])) is None
    # Two rings: each frame touches two others, and they are not one.
    assert one_ring(linked("ABCDEF", ["AB", "BC", "CA", "DE", "EF", "FD"])) is None
    # A frame that is said to touch itself, as a faulty gap may have it.
    assert one_ring(linked("ABC", ["AB", "BC", "CC"])) is None
