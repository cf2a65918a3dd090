"""What lies on which spot, against the check's own rules, move by move through plans made by chance."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import SCALE, Laid, laid_open, yard_of
from small_house import hut, lean, pile, steps

from packseq.check.job import Job as CheckedJob
from packseq.check.job import Lift
from packseq.check.rules import RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.house.model import House
from packseq.standup.states.contents import Spots
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import costed_moves
from packseq.standup.states.space import open_space

ABOUT_HEAPS = {name: RULES[name] for name in ("top-of-pack", "spot-room", "ground-clear")}


def checked_job(laid: Laid) -> CheckedJob:
    job = laid.yard.job
    return CheckedJob(laid.house, job.spots, job.places, job.direction, laid.yard.legs.routes)


def lift_of(laid: Laid, job: CheckedJob, state: State, move: int) -> Lift | None:
    """Return a move as the check sees it, None where the frame does not lie where the move takes it from."""
    moves, yard = laid.moves, laid.yard
    frame = laid.house.scenario.frames[yard.frames.names[int(moves.frame[move])]]
    spot = None if moves.spot[move] < 0 else yard.spots[int(moves.spot[move])]
    heap = None if spot is None else Heap(spot.kind, spot.name)
    source = state.lies[frame.name]
    if moves.kind[move] == Kind.OFF_SPOT and source != heap:
        return None
    target = heap if moves.kind[move] == Kind.ASIDE else None
    return Lift(job, state, frame, source, target, 4, None)


@given(laid_open(), st.integers(0, 999))
@settings(max_examples=25, deadline=None)
def test_a_move_can_be_made_exactly_when_the_check_lets_it(laid: Laid, chance: int) -> None:
    moves, dice = laid.moves, np.random.default_rng(chance)
    spots, job = Spots(moves), checked_job(laid)
    contents, state, node = spots.empty(), job.beginning, 0
    while moves.first_move[node] < moves.first_move[node + 1]:
        rows = np.arange(moves.first_move[node], moves.first_move[node + 1])
        after, can = spots.after(contents.only(np.zeros(len(rows), dtype=np.int64)), rows)
        lifts = [lift_of(laid, job, state, move) for move in rows.tolist()]
        kept = [lift is not None and not list(broken_rules(lift, ABOUT_HEAPS)) for lift in lifts]
        assert can.tolist() == kept
        if not can.any():
            return
        chosen = int(dice.choice(np.flatnonzero(can)))
        lift = lifts[chosen]
        assert lift is not None
        contents, state = after.only(np.array([chosen])), state.after(lift.frame.name, lift.target)
        node = int(moves.target[rows[chosen]])


def after_steps(house: House, text: str, piled_for: tuple[str, ...] = ()) -> list[bool]:
    """Return for each of some steps whether it can be made after those before it."""
    laid = _laid(house)
    spots, could, node = Spots(laid.moves, piled_for), list[bool](), 0
    contents = spots.empty()
    for step in steps(text):
        moves = laid.moves
        rows = range(int(moves.first_move[node]), int(moves.first_move[node + 1]))
        names = [
            laid.yard.spots[int(moves.spot[move])].name if moves.spot[move] >= 0 else None for move in rows
        ]
        fitting = [
            move
            for move, spot in zip(rows, names, strict=True)
            if laid.yard.frames.names[int(moves.frame[move])] == step.frame
            and (moves.kind[move] == Kind.ASIDE) == (step.do == "set aside")
            and (step.to_spot is None or spot == step.to_spot)
        ]
        assert fitting, step
        after, can = spots.after(contents.only(np.zeros(len(fitting), dtype=np.int64)), np.array(fitting))
        could.append(bool(can.any()))
        chosen = int(np.argmax(can))
        contents, node = after.only(np.array([chosen])), int(moves.target[fitting[chosen]])
    return could


def _laid(house: House) -> Laid:
    yard = yard_of(house)
    space = open_space(yard, 4)
    assert space is not None
    return Laid(house, yard, 4, space, costed_moves(yard, space, SCALE))


STACKED = (("W1",), ("N1",), ("E1",), ("S1",))


def test_from_a_pile_the_last_on_is_the_first_off_and_from_a_lean_any() -> None:
    onto, off_first = "W1>{0} N1>{0} E1>{0} S1 E1 N1 W1", "E1>{0} N1>{0} W1>{0} S1 E1"
    assert after_steps(hut(STACKED, spots=(pile("P"),)), onto.format("P")) == [True] * 7
    wrong = (("E1",), ("N1",), ("W1",), ("S1",))
    assert after_steps(hut(wrong, spots=(pile("P"),)), off_first.format("P")) == [True] * 4 + [False]
    assert after_steps(hut(wrong, spots=(lean("P"),)), off_first.format("P")) == [True] * 5


def test_no_more_are_put_down_than_a_spot_holds() -> None:
    text = "W1>P N1>P E1>P"
    assert after_steps(hut(STACKED, spots=(lean("P", holds=2),)), text) == [True, True, False]
    assert after_steps(hut(STACKED, spots=(pile("P", holds=3),)), text) == [True, True, True]


def test_no_frame_is_piled_over_one_that_is_stood_earlier_in_the_order_given() -> None:
    text, order = "W1>P N1>P E1>P", ("S1", "E1", "W1", "N1")
    assert after_steps(hut(STACKED, spots=(pile("P"),)), text) == [True, True, True]
    assert after_steps(hut(STACKED, spots=(pile("P"),)), text, order) == [True, False, True]
    assert after_steps(hut(STACKED, spots=(lean("P"),)), text, order) == [True, True, True]


def test_nothing_is_stood_where_a_spot_with_frames_lies() -> None:
    # The spot lies across the line of S1, from (0, 0) to (6000, 0).
    over = hut(STACKED, spots=(lean("P", at=(3000, 500)),))
    assert after_steps(over, "W1>P N1>P E1>P S1") == [True, True, True, False]
