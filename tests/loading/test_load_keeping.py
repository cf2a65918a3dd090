"""How few frames must be moved, against every way of laying six frames in two packs."""

from __future__ import annotations

from functools import cache
from itertools import permutations

import load_oracle as oracle
from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, pack, six

from packseq.loading.judge import judge
from packseq.loading.keeping import Guess, Keeping
from packseq.loading.moved import moved_between
from packseq.loading.packing import packed_alike
from packseq.loading.search import LoadSearch
from packseq.plan.load import LaidLayer, LaidPack
from packseq.plan.model import LapDirection
from packseq.scenario.loadlimits import LoadLimits
from packseq.standup.solver import Clock, Solver

Stacks = tuple[tuple[str, ...], tuple[str, ...]]

# Whatever lies on what, all limits are kept; each frame has a layer of its own.
WIDE = LoadLimits(overhang_mm=5000.0, end_to_end=False, side_by_side=False)
ORDERS: dict[LapDirection, tuple[str, ...]] = {
    "anticlockwise": SIX,
    "clockwise": ("S2", "S1", "W1", "N2", "N1", "E1"),
}


@cache
def every() -> tuple[Stacks, ...]:
    """Return every way of laying the frames in two stacks, one on top of the other."""
    return tuple((order[:cut], order[cut:]) for order in permutations(SIX) for cut in range(7))


def laid(stacks: Stacks) -> tuple[LaidPack, ...]:
    return tuple(
        LaidPack(name, tuple(LaidLayer((frame,)) for frame in stack))
        for name, stack in zip("AB", stacks, strict=True)
        if stack
    )


def lifts(stacks: Stacks, order: tuple[str, ...]) -> int:
    return oracle.lifted_twice(tuple(tuple((name,) for name in stack) for stack in stacks), order)


def kept_at_most(before: Stacks, after: Stacks) -> int:
    """Return a number of frames of which no more can stay: those that lie in the pack where they lay."""
    return sum(len(set(was) & set(now)) for was, now in zip(before, after, strict=True))


def fewest(before: Stacks, most_lifts: int, orders: tuple[tuple[str, ...], ...]) -> int:
    """Return how few frames can be moved for so few extra lifts in one of some stand orders."""
    least = len(SIX)
    for after in every():
        if len(SIX) - kept_at_most(before, after) < least and any(
            lifts(after, order) <= most_lifts for order in orders
        ):
            least = min(least, len(moved_between(laid(before), laid(after), SIX)))
    return least


def search_of() -> LoadSearch:
    return LoadSearch(six(limits=WIDE), Solver(Clock(60.0)), 5.0)


@settings(max_examples=8, deadline=None)
@given(order=st.permutations(SIX), cut=st.integers(0, 6), most=st.integers(0, 3))
def test_the_bound_is_what_trying_everything_finds(order: list[str], cut: int, most: int) -> None:
    # With limits that rule out nothing, and every way in open, the bound is the true number.
    before = (tuple(order[:cut]), tuple(order[cut:]))
    search = search_of()
    keeping = Keeping(search.jobs, search.standing, laid(before), search.solver)
    true = fewest(before, most, tuple(ORDERS.values()))
    assert keeping.at_least(most, range(7), 5.0).moved == true
    # So many are known to do: that fewer do not is all there is to find out.
    assert keeping.at_least(most, range(true), 5.0).moved == true


@settings(max_examples=8, deadline=None)
@given(order=st.permutations(SIX), cut=st.integers(0, 6), clockwise=st.booleans())
def test_the_packs_most_alike_are_found(order: list[str], cut: int, clockwise: bool) -> None:
    before = (tuple(order[:cut]), tuple(order[cut:]))
    direction: LapDirection = "clockwise" if clockwise else "anticlockwise"
    search = search_of()
    job = next(job for job in search.jobs if job.direction == direction)
    standing, stood = search.standing[direction], ORDERS[direction]
    guess = Guess(direction, stood, stood)
    found = packed_alike(job, standing, guess, search.solver, delivered=laid(before), work=5.0)
    assert found is not None
    judged = judge(job, found, standing.routes)
    assert judged.kept
    assert judged.worth[0] == 0
    assert len(moved_between(laid(before), found.packs, SIX)) == fewest(before, 0, (stood,))


def test_a_frame_that_waits_where_it_was_delivered() -> None:
    # W1 lies on S1 in A and is stood last. Let it wait: it is lifted first of all, and nothing is moved.
    # Else it is moved to the bottom.
    delivered = (pack("A", "W1 S1 S2 E1 N1 N2"),)
    search = search_of()
    job = next(job for job in search.jobs if job.direction == "anticlockwise")
    standing = search.standing["anticlockwise"]
    for lifted, most, moved in ((("W1", *SIX[:-1]), 1, ()), (SIX, 0, ("W1",))):
        guess = Guess("anticlockwise", SIX, lifted)
        found = packed_alike(job, standing, guess, search.solver, delivered=delivered, work=5.0)
        assert found is not None
        judged = judge(job, found, standing.routes)
        assert judged.kept
        assert judged.worth[0] == most
        assert moved_between(delivered, found.packs, SIX) == moved


def test_the_guess_lifts_what_waits_before_what_lies_beneath_it() -> None:
    # One extra lift is allowed and W1 over S1 needs one: nothing must be moved, and W1 is lifted first.
    delivered = (pack("A", "W1 S1 S2 E1 N1 N2"),)
    search = search_of()
    keeping = Keeping(search.jobs, search.standing, delivered, search.solver)
    least = keeping.at_least(1, range(7), 5.0)
    assert least.moved == 0
    assert Guess("anticlockwise", SIX, ("W1", *SIX[:-1])) in least.guesses
    assert keeping.at_least(0, range(7), 5.0).moved == 1
