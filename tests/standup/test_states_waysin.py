"""Ways asked for again only where something moved, against each way looked for anew after every stand."""

from __future__ import annotations

import random

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import yard_of
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.standup.states.waysin import WaysIn
from packseq.standup.states.yard import Yard


def has_ways_in(yard: Yard, standing: frozenset[str]) -> bool:
    """Tell whether every frame that does not stand can be carried in from its pack, by the routes alone."""
    return all(
        yard.legs.routes.leg(
            yard.stops[yard.pack_of[number]], yard.lines[number], yard.frame(number), standing
        )
        is not None
        for number, name in enumerate(yard.frames.names)
        if name not in standing
    )


@given(walled_houses(), st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_a_frame_is_shut_out_exactly_when_the_routes_leave_it_no_way(
    house: House, dice: random.Random
) -> None:
    yard = yard_of(house)
    order = list(yard.frames.names)
    dice.shuffle(order)
    ways_in = WaysIn(yard)
    moved = yard.frames.all
    for count in range(len(order) + 1):
        standing = frozenset(order[:count])
        states = yard.frames.mask(standing)[np.newaxis]
        left_open = bool(len(ways_in.left_open(states, states, moved[np.newaxis])))
        assert left_open == has_ways_in(yard, standing)
        if not left_open:
            return
        moved = yard.frames.mask(order[count : count + 1])
