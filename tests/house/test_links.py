"""Groups of frames that hang together, held to networkx."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from packseq.house.links import Links

NAMES = "ABCDEFGH"
PAIRS = st.lists(
    st.tuples(st.sampled_from(NAMES), st.sampled_from(NAMES)).filter(lambda pair: len({*pair}) > 1)
)


@given(PAIRS, st.sets(st.sampled_from(NAMES)))
def test_neighbours_and_groups_among_some_of_the_frames(pairs: list[tuple[str, str]], some: set[str]) -> None:
    graph: nx.Graph[str] = nx.Graph(pairs)
    graph.add_nodes_from(NAMES)
    part = graph.subgraph(some)
    links = Links.between(NAMES, pairs).among(some)
    assert links.neighbours == {name: tuple(sorted(part[name])) for name in some}
    assert {*links.groups()} == {tuple(sorted(group)) for group in nx.connected_components(part)}


def test_groups_come_in_the_order_of_their_first_frame_and_strangers_are_passed_over() -> None:
    links = Links.between("DBAC", [("A", "B"), ("D", "C"), ("C", "Z")])
    assert links.groups() == (("C", "D"), ("A", "B"))
    assert links.neighbours == {"D": ("C",), "B": ("A",), "A": ("B",), "C": ("D",)}
