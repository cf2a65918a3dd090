"""Packs for a stand order that is known, against every packing of six frames, and by hand."""

from __future__ import annotations

import load_oracle as oracle
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from load_houses import SIX, landing, pack, six
from test_load_oracle import LIMITS

from packseq.house.model import House
from packseq.loading.assemble import Arranged
from packseq.loading.judge import Judged, judge
from packseq.loading.packing import packed_in_order
from packseq.loading.search import LoadSearch
from packseq.loading.sharing import Row, rows_of
from packseq.plan.load import LaidPack
from packseq.scenario.loadlimits import LoadLimits
from packseq.standup.solver import Clock, Solver

CLOCKWISE = ("S2", "S1", "W1", "N2", "N1", "E1")


def packed(
    house: House, order: tuple[str, ...], most_packs: int, known: tuple[LaidPack, ...] = ()
) -> Judged | None:
    """Return a load for an order, held to both checks."""
    search = LoadSearch(house, Solver(Clock(60.0)), 5.0)
    job = search.jobs[0 if order[0] == "S2" else 1]
    standing = search.standing[job.direction]
    found = packed_in_order(job, standing, order, search.solver, most_packs=most_packs, work=5.0, known=known)
    if found is None:
        return None
    assert found.order == order
    judged = judge(job, found, standing.routes)
    assert judged.kept
    assert judged.worth[0] == 0
    assert judged.worth[1] <= most_packs
    return judged


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(limits=LIMITS, packs=st.integers(1, 2), clockwise=st.booleans())
def test_packs_are_found_where_there_are_any(limits: oracle.Limits, packs: int, clockwise: bool) -> None:
    # No row of these frames has more than two within the longest, and all are near in a ring of six: here
    # every packing is tried.
    order = CLOCKWISE if clockwise else SIX
    house = six(
        limits=LoadLimits(
            most_kg=limits.most_kg,
            most_layers=limits.most_layers,
            overhang_mm=limits.overhang_mm,
            end_to_end=limits.share,
            balance_mm=10_000.0,
        )
    )
    can = any(oracle.lifted_twice(packing, order) == 0 for packing in oracle.packings(limits, packs))
    assert (packed(house, order, packs) is not None) == can


def test_the_packs_of_least_walking_by_hand() -> None:
    # A lies beside the house, B 100 m off, and both take all frames. Whatever lies in B is walked for: all
    # goes in A.
    house = six(
        places=(landing("A", at=(0.0, -5_000.0)), landing("B", at=(0.0, -100_000.0))),
        limits=LoadLimits(overhang_mm=2000.0),
    )
    known = (pack("A", "S1 S2 E1"), pack("B", "N1 N2 W1"))
    search = LoadSearch(house, Solver(Clock(60.0)), 5.0)
    routes = search.standing["anticlockwise"].routes
    before = judge(search.jobs[1], Arranged(known, SIX), routes)
    after = packed(house, SIX, 2, known)
    assert before.kept
    assert after is not None
    assert [each.name for each in after.load.packs] == ["A"]
    assert after.worth[2] < before.worth[2]


def test_frames_together_and_apart() -> None:
    limits = LoadLimits(overhang_mm=2000.0, together=(("S1", "N2"),), apart=(("S1", "W1"),))
    found = packed(six(limits=limits), SIX, 2)
    assert found is not None
    homes = {frame: each.name for each in found.load.packs for frame in each.frames}
    assert homes["S1"] == homes["N2"] != homes["W1"]
    assert packed(six(limits=LoadLimits(apart=(("S1", "E1", "W1"),))), SIX, 2) is None


def test_a_pack_goes_before_the_line_it_lies_on() -> None:
    # The only place lies across S1's line, from x 1000 to 5000 as long as a frame of 4000 makes it, and S1
    # is stood first or second: nothing can be stood from there but what comes before.
    house = six(places=(landing("A", at=(3000.0, 0.0)),), limits=LoadLimits(overhang_mm=2000.0))
    assert packed(house, SIX, 1) is None
    clear = six(places=(landing("A", at=(3000.0, -5000.0)),), limits=LoadLimits(overhang_mm=2000.0))
    assert packed(clear, SIX, 1) is not None


def test_rows_by_hand() -> None:
    # Of S1 3000, N2 1000, W1 4000, all 2400 wide: S1 and N2 make 4000 end to end with no room between;
    # side by side they would be 4800 wide, which no frame is.
    job = LoadSearch(six(), Solver(Clock(1.0)), 1.0).jobs[0]
    rows = list(rows_of(job, ("S1", "N2", "W1")))
    assert rows == [
        Row(("S1",), (3000, 2400), (3000, 2400), 90),
        Row(("N2",), (1000, 2400), (1000, 2400), 90),
        Row(("W1",), (4000, 2400), (4000, 2400), 90),
        Row(("S1", "N2"), (4000, 2400), (4000, 2400), 90),
    ]


def test_rows_side_by_side_by_hand() -> None:
    # N2 and S2, 1000 and 2000 mm, are 1100 and 1300 high: side by side 2400 wide, reaching 2000 along, but
    # whatever lies on them is carried over 1000 only. End to end they are 3000, carried over 1100 across.
    house = six(heights={"N2": 1100.0, "S2": 1300.0}, limits=LoadLimits(layer_gap_mm=0.0))
    job = LoadSearch(house, Solver(Clock(1.0)), 1.0).jobs[0]
    pairs = [row for row in rows_of(job, ("S2", "N2", "E1")) if len(row.frames) == 2]
    assert pairs == [
        Row(("S2", "N2"), (3000, 1300), (3000, 1100), 90),
        Row(("S2", "N2"), (2000, 2400), (1000, 2400), 90, side_by_side=True),
    ]
