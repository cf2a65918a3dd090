"""The best load of six frames in two packs against every load and every stand order."""

from __future__ import annotations

import load_oracle as oracle
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from load_houses import SIX, landing, six

from packseq.errors import NoPlanError
from packseq.loading.search import best_load
from packseq.scenario.loadlimits import LoadLimits

LIMITS = st.builds(
    oracle.Limits,
    kg=st.just(60),
    most_kg=st.sampled_from([180, 240, 300, 360]),
    most_layers=st.integers(2, 6),
    overhang_mm=st.sampled_from([0, 250, 500, 1000, 1500]),
    share=st.booleans(),
)


def checked(limits: oracle.Limits, packs: int, lap: str) -> None:
    house = six(
        places=[landing("A"), landing("B", at=(0.0, -26_000.0))][:packs],
        limits=LoadLimits(
            most_kg=limits.most_kg,
            most_layers=limits.most_layers,
            overhang_mm=limits.overhang_mm,
            end_to_end=limits.share,
            # Where rows pull is left to the tests of balance: here no pack is off by more than it is long.
            balance_mm=10_000.0,
        ),
        lap="one-way" if lap == "one-way" else "both-ways",
    )
    expected = oracle.best(limits, packs, lap)
    if expected is None:
        with pytest.raises(NoPlanError):
            best_load(house, limit_s=5)
        return
    found = best_load(house, limit_s=5)
    lifts, count, _ = found.stages
    assert (lifts.value, lifts.status) == (expected[0], "optimal")
    assert (count.value, count.status) == (expected[1], "optimal")
    assert sorted(name for pack in found.load.packs for name in pack.frames) == sorted(SIX)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(limits=LIMITS, packs=st.integers(1, 2), lap=st.sampled_from(["one-way", "both-ways"]))
def test_six_frames_in_two_packs_against_all_loads(limits: oracle.Limits, packs: int, lap: str) -> None:
    checked(limits, packs, lap)


@pytest.mark.slow
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(limits=LIMITS, packs=st.integers(1, 2), lap=st.sampled_from(["one-way", "both-ways"]))
def test_many_limits_against_all_loads(limits: oracle.Limits, packs: int, lap: str) -> None:
    checked(limits, packs, lap)


def test_the_oracle_counts_a_load_by_hand() -> None:
    # Anticlockwise S1, S2, E1, N1, N2, W1. In A from the top: W1, S1. W1 is stood last, after S1 beneath it.
    packing = ((("W1",), ("S1",)), (("S2",), ("E1",), ("N1",), ("N2",)))
    assert oracle.lifted_twice(packing, oracle.RING) == 1
