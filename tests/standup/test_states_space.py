"""Spaces: every state leads on to the end, every lift keeps the rules, and no plan's state is missing."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from opened_states import Laid, laid_open, yard_of
from oracle import Oracle
from standup_jobs import told
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.standup.states.kinds import Kind
from packseq.standup.states.space import Space, open_space
from packseq.standup.states.yard import Yard

State = tuple[frozenset[str], frozenset[str]]


def states_of(yard: Yard, space: Space) -> list[State]:
    names = yard.frames.names_in
    return [(names(gone), names(standing)) for gone, standing in zip(space.gone, space.standing, strict=True)]


def hold_to_the_rules(yard: Yard, space: Space, most_lifts: int) -> None:
    states = states_of(yard, space)
    every = frozenset(yard.frames.names)
    assert states[0] == (frozenset(), frozenset())
    assert states[-1] == (every, every)
    assert len(set(states)) == len(states)
    starts = [*space.starts, len(space)]
    layer = {
        state: number for number, (begin, end) in enumerate(pairwise(starts)) for state in range(begin, end)
    }
    led_to: dict[int, int] = {0: 0}
    edges = space.edges
    for source, frame, kind, target in zip(
        edges.source.tolist(), edges.frame.tolist(), edges.kind.tolist(), edges.target.tolist(), strict=True
    ):
        (gone, standing), after = states[source], states[target]
        name = yard.frames.names[frame]
        above = {
            upper
            for pack in yard.packs
            for depth, lying in enumerate(pack.layers)
            if name in lying
            for layer_above in pack.layers[:depth]
            for upper in layer_above
        }
        assert name not in standing
        assert (name in gone) == (kind == Kind.OFF_SPOT)
        assert kind == Kind.OFF_SPOT or above <= gone
        assert after == (gone | {name}, standing if kind == Kind.ASIDE else standing | {name})
        assert layer[target] - layer[source] == (2 if kind == Kind.STRAIGHT else 1)
        lifts = led_to[source] + (kind == Kind.ASIDE)
        led_to[target] = min(led_to.get(target, lifts), lifts)
    # Every state is led to from the beginning, and leads on but for the end.
    assert led_to.keys() == set(range(len(space)))
    assert set(edges.source.tolist()) == set(range(len(space) - 1))
    assert max(led_to.values()) <= most_lifts


@given(laid_open())
@settings(max_examples=15, deadline=None)
def test_every_state_lies_between_the_beginning_and_the_end(laid: Laid) -> None:
    assert laid.space.whole
    hold_to_the_rules(laid.yard, laid.space, laid.most_lifts)


@given(laid_open(), st.integers(1, 6))
@settings(max_examples=15, deadline=None)
def test_a_space_cut_to_some_states_of_each_layer_is_part_of_the_whole_and_says_so(
    laid: Laid, width: int
) -> None:
    cut = open_space(laid.yard, laid.most_lifts, width=width)
    assert cut is not None
    whole = states_of(laid.yard, laid.space)
    assert set(states_of(laid.yard, cut)) <= set(whole)
    if cut.whole:
        assert states_of(laid.yard, cut) == whole
    if len(cut):
        hold_to_the_rules(laid.yard, cut, laid.most_lifts)
        starts = [*cut.starts, len(cut)]
        assert max(end - begin for begin, end in pairwise(starts)) <= width


@given(laid_open())
@settings(max_examples=10, deadline=None)
def test_more_states_than_there_may_be_are_none(laid: Laid) -> None:
    # Some states that are reached lead nowhere and are left out in the end.
    assert open_space(laid.yard, laid.most_lifts, most_states=len(laid.space) - 2) is None
    assert open_space(laid.yard, laid.most_lifts, most_states=10**6) is not None


@given(walled_houses())
@settings(max_examples=15, deadline=None)
def test_the_best_plan_that_sets_each_frame_aside_once_comes_through_its_states(house: House) -> None:
    house = told(house, "anticlockwise")
    best = Oracle(house, once=True).best()
    assume(best is not None)
    assert best is not None
    yard = yard_of(house)
    space = open_space(yard, best.cost[0])
    assert space is not None
    states = set(states_of(yard, space))
    gone, standing = frozenset[str](), frozenset[str]()
    for move in best.moves:
        name, aside, _ = move.partition(">")
        gone |= {name}
        if not aside:
            standing |= {name}
        assert (gone, standing) in states
