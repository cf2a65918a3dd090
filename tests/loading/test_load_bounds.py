"""Bounds on packs against bin packing solved exactly."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import landing, six
from ortools.sat.python import cp_model

from packseq.loading.bounds import fewest_bins, fewest_packs, fewest_rows
from packseq.loading.job import LoadJob
from packseq.scenario.loadlimits import LoadLimits


def packed(sizes: list[int], room: int) -> int:
    """Return the fewest bins that hold things of these sizes: exact, by assignment."""
    model = cp_model.CpModel()
    bins = range(len(sizes))
    used = [model.new_bool_var("") for _ in bins]
    inside = {(thing, place): model.new_bool_var("") for thing in bins for place in bins}
    for thing in bins:
        model.add_exactly_one(inside[thing, place] for place in bins)
    for place in bins:
        model.add(sum(size * inside[thing, place] for thing, size in enumerate(sizes)) <= room * used[place])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 50), min_size=1, max_size=9))
def test_the_bound_is_never_above_an_exact_packing(sizes: list[int]) -> None:
    bound = fewest_bins(sizes, 50)
    assert bound <= packed(sizes, 50)
    assert bound >= -(-sum(sizes) // 50)


def test_the_bound_sees_what_cannot_share() -> None:
    # 30 + 30 > 50: three bins for three of them, though 90 / 50 asks for two only.
    assert fewest_bins([30, 30, 30], 50) == 3 == packed([30, 30, 30], 50)
    # 26 leaves 24 beside it: 25 needs a bin of its own, however it is turned.
    assert fewest_bins([26, 26, 25, 25], 50) == 3 == packed([26, 26, 25, 25], 50)


@settings(max_examples=15, deadline=None)
@given(
    masses=st.lists(st.integers(20, 200), min_size=6, max_size=6),
    most=st.integers(200, 600),
)
def test_packs_by_mass_against_an_exact_packing(masses: list[int], most: int) -> None:
    names = ("S1", "S2", "E1", "N1", "N2", "W1")
    house = six(
        masses=dict(zip(names, map(float, masses), strict=True)),
        places=[landing(letter) for letter in "ABCDEF"],
        limits=LoadLimits(most_kg=float(most)),
    )
    assert fewest_packs(LoadJob(house, "clockwise", {1: 6}), 1) <= packed(masses, most)


def test_packs_by_length_and_layers() -> None:
    # Lengths 3000, 2000, 4000, 4000, 1000, 4000: 18 000 mm in rows of 4000 are five rows (exactly packed:
    # 4000, 4000, 4000, 3000 + 1000, 2000). In packs of two layers that is three packs.
    house = six(limits=LoadLimits(most_layers=2), places=[landing(letter) for letter in "ABC"])
    job = LoadJob(house, "clockwise", {1: 3})
    assert fewest_rows(job, 1) == 5 == packed([3000, 2000, 4000, 4000, 1000, 4000], 4000)
    assert fewest_packs(job, 1) == 3
    alone = six(limits=LoadLimits(most_layers=2, end_to_end=False), places=[landing("A")])
    assert fewest_rows(LoadJob(alone, "clockwise", {1: 1}), 1) == 6
