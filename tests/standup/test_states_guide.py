"""An order of standing as states, and a space cut narrow that keeps them."""

from __future__ import annotations

import numpy as np
from hypothesis import assume, given, settings
from opened_states import yard_of
from oracle import Oracle
from small_house import hut, lean, pack, steps
from standup_jobs import told
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.standup.states.guide import guide_along, guide_of
from packseq.standup.states.space import open_space


def test_the_states_that_an_order_worked_by_hand_comes_through() -> None:
    # E1 lies over S1 and is set aside first: 1 lift. S1 comes straight off its pack, 2 more; E1 off its
    # spot, 1; N1 lies over W1 and both come straight, 2 and 2.
    packs = (pack("A", (3000, -9000), (("E1",), ("S1",))), pack("B", (9000, -9000), (("N1",), ("W1",))))
    yard = yard_of(hut(packs=packs, spots=(lean(at=(-5000, -8000)),)))
    guide = guide_of(yard, ("S1", "E1", "N1", "W1"), {"E1"})
    words, names = yard.frames.words, yard.frames.names_in
    assert {layer: (set(names(row[:words])), set(names(row[words:]))) for layer, row in guide.items()} == {
        1: ({"E1"}, set()),
        3: ({"E1", "S1"}, {"S1"}),
        4: ({"E1", "S1"}, {"S1", "E1"}),
        6: ({"E1", "S1", "N1"}, {"S1", "E1", "N1"}),
        8: ({"E1", "S1", "N1", "W1"}, {"S1", "E1", "N1", "W1"}),
    }


def test_a_frame_moved_from_one_spot_to_another_leaves_the_state_as_it_is() -> None:
    packs = (pack("A", (3000, -9000), (("E1",), ("S1",))), pack("B", (9000, -9000), (("N1",), ("W1",))))
    yard = yard_of(hut(packs=packs, spots=(lean(at=(-5000, -8000)),)))
    once, twice = steps("E1>L S1 E1 N1 W1"), steps("E1>L E1>L S1 E1 N1 W1")
    along, again = guide_along(yard, once), guide_along(yard, twice)
    assert along.keys() == again.keys() == {1, 3, 4, 6, 8}
    assert all((along[layer] == again[layer]).all() for layer in along)


@given(walled_houses())
@settings(max_examples=15, deadline=None)
def test_a_space_cut_to_one_state_a_layer_keeps_those_of_the_guide(house: House) -> None:
    house = told(house, "anticlockwise")
    best = Oracle(house, once=True).best()
    assume(best is not None)
    assert best is not None
    order = [move for move in best.moves if ">" not in move]
    aside = {move.partition(">")[0] for move in best.moves if ">" in move}
    yard = yard_of(house)
    guide = guide_of(yard, order, aside)
    whole = open_space(yard, best.cost[0])
    assert whole is not None
    states = {row.tobytes() for row in np.hstack((whole.gone, whole.standing))}
    # A frame that waits for the ways' sake may have to be set aside earlier than the guide has it.
    assume(all(row.tobytes() in states for row in guide.values()))
    cut = open_space(yard, best.cost[0], width=1, guide=guide)
    assert cut is not None
    assert {row.tobytes() for row in guide.values()} <= {
        row.tobytes() for row in np.hstack((cut.gone, cut.standing))
    }
