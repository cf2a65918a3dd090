"""Frames that wait on other packs: what the model counts against every way of lifting six frames."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, six

from packseq.loading.job import LoadJob
from packseq.loading.variables import LoadVariables
from packseq.plan.model import LapDirection
from packseq.scenario.model import Landing, Place
from packseq.standup.solver import Clock, Solver

Heaps = tuple[tuple[str, ...], tuple[str, ...]]

FAR = Place((0.0, -20_000.0), 0.0)
ORDERS: dict[LapDirection, tuple[str, ...]] = {
    "anticlockwise": SIX,
    "clockwise": ("S2", "S1", "W1", "N2", "N1", "E1"),
}


def counted(heaps: Heaps, direction: LapDirection, holds: tuple[int, int]) -> int | None:
    """Return the extra lifts that the model has for packs, one frame to a layer, and a stand order."""
    places = tuple(Landing(name, 1, (FAR,), most) for name, most in zip(("A", "B"), holds, strict=True))
    house = six(places=places)
    house = replace(house, scenario=replace(house.scenario, spots={}))
    v = LoadVariables(LoadJob(house, direction, {1: 2}))
    for place, heap in zip(("A", "B"), heaps, strict=True):
        for layer, name in enumerate(heap):
            v.model.add(v.at[name, place, layer] == 1)
    for number, name in enumerate(ORDERS[direction]):
        v.model.add(v.up[name] == number)
    v.model.minimize(v.extra_lifts)
    return Solver(Clock(60.0)).solve(v.model, 60.0, side_by_side=True).value


def lifted(heaps: Heaps, order: Sequence[str], holds: tuple[int, int]) -> int | None:
    """Return the fewest extra lifts that stand packs in an order, by trying every move; None: there are none.

    A pack that nothing lies on any more takes frames as others do; one that never had any takes none.
    """
    ahead: deque[tuple[int, Heaps, int]] = deque([(0, heaps, 0)])
    seen = {(heaps, 0)}
    while ahead:
        lifts, now, stood = ahead.popleft()
        while stood < len(order) and any(heap[:1] == (order[stood],) for heap in now):
            one, other = (heap[1:] if heap[:1] == (order[stood],) else heap for heap in now)
            now = (one, other)
            stood += 1
        if stood == len(order):
            return lifts
        for source, target in ((0, 1), (1, 0)):
            if now[source] and heaps[target] and holds[target] and len(now[target]) <= holds[target]:
                put = (now[source][0], *now[target])
                then = (now[source][1:], put) if target else (put, now[source][1:])
                if (then, stood) not in seen:
                    seen.add((then, stood))
                    ahead.append((lifts + 1, then, stood))
    return None


@settings(max_examples=40, deadline=None)
@given(
    shuffled=st.permutations(SIX),
    cut=st.integers(0, 6),
    clockwise=st.booleans(),
    holds=st.tuples(st.sampled_from([0, 3, 6]), st.sampled_from([0, 3, 6])),
)
def test_no_load_has_fewer_lifts_than_the_model_counts(
    shuffled: list[str], cut: int, clockwise: bool, holds: tuple[int, int]
) -> None:
    heaps = (tuple(shuffled[:cut]), tuple(shuffled[cut:]))
    direction: LapDirection = "clockwise" if clockwise else "anticlockwise"
    least = lifted(heaps, ORDERS[direction], holds)
    model = counted(heaps, direction, holds)
    if least is not None:
        assert model is not None
        assert model <= least


def test_a_frame_lifted_again_by_hand() -> None:
    # N2 over S1 in A, and B is stood from after S1: S2, E1, N1, W1 from the top. N2 goes on B before S1 is
    # stood. S2 is stood next, beneath N2, so N2 is lifted again: back on A, empty by then. Two extra lifts.
    heaps = (("N2", "S1"), ("S2", "E1", "N1", "W1"))
    assert counted(heaps, "anticlockwise", (6, 6)) == lifted(heaps, SIX, (6, 6)) == 2


def test_a_frame_lifted_once_by_hand() -> None:
    # N2 over S1, S2, E1, N1 in A, and only W1 in B, which is stood after N2: one extra lift.
    heaps = (("N2", "S1", "S2", "E1", "N1"), ("W1",))
    assert counted(heaps, "anticlockwise", (6, 6)) == lifted(heaps, SIX, (6, 6)) == 1


def test_spots_take_what_packs_do_not() -> None:
    # The same packs beside two leaning places: whoever waits there is lifted once.
    v = LoadVariables(LoadJob(six(), "anticlockwise", {1: 2}))
    assert not v.again
