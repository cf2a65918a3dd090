"""The bound on walking, against loads that were replayed and by hand."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, landing, six

from packseq.loading.assemble import Arranged
from packseq.loading.judge import judge
from packseq.loading.search import LoadSearch
from packseq.loading.standing import landing_stop
from packseq.loading.walking import least_walking
from packseq.plan.load import LaidLayer, LaidPack
from packseq.routes.values import frame_stop
from packseq.scenario.loadlimits import LoadLimits
from packseq.standup.solver import Clock, Solver

WIDE = LoadLimits(overhang_mm=5000.0)
NEAR = [(-4000.0, 2000.0), (9000.0, 2000.0), (2500.0, -4000.0), (2500.0, 9000.0)]


def bound(search: LoadSearch, packs: int, *, nothing_waits: bool) -> int | None:
    """Return the bound for standing anticlockwise."""
    routes = search.standing["anticlockwise"].routes
    return least_walking(search.jobs[1], routes, packs, nothing_waits=nothing_waits)


@settings(max_examples=20, deadline=None)
@given(
    where=st.lists(st.sampled_from(NEAR), min_size=2, max_size=2, unique=True),
    homes=st.lists(st.integers(0, 1), min_size=6, max_size=6),
    lifted=st.booleans(),
)
def test_no_load_has_less_walked_than_the_bound(
    where: list[tuple[float, float]], homes: list[int], lifted: bool
) -> None:
    house = six(places=[landing(name, at=at) for name, at in zip("AB", where, strict=True)], limits=WIDE)
    search = LoadSearch(house, Solver(Clock(60.0)), 5.0)
    packs = []
    for number, name in enumerate("AB"):
        names = [frame for frame, home in zip(SIX, homes, strict=True) if home == number]
        if names:
            # Upside down, whatever lies on top must wait.
            order = reversed(names) if lifted else names
            packs.append(LaidPack(name, tuple(LaidLayer((frame,)) for frame in order)))
    judged = judge(search.jobs[1], Arranged(tuple(packs), SIX), search.standing["anticlockwise"].routes)
    assert judged.kept
    lifts, count, walked = judged.worth
    least = bound(search, count, nothing_waits=lifts == 0)
    assert least is not None
    assert 0 < least <= walked


def test_one_pack_by_hand() -> None:
    # Round a hut one way what stands when is known, and all comes from one place: the bound has every leg of
    # the true walk, but that it leaves out the longest way back, and the plan the last one.
    house = six(places=(landing("A", at=(2500.0, -4000.0)),), limits=WIDE)
    search = LoadSearch(house, Solver(Clock(60.0)), 5.0)
    routes = search.standing["anticlockwise"].routes
    packs = (LaidPack("A", tuple(LaidLayer((name,)) for name in SIX)),)
    judged = judge(search.jobs[1], Arranged(packs, SIX), routes)
    assert judged.kept
    back = []
    for turn, name in enumerate(SIX, 1):
        line = frame_stop(house.scenario.frames[name])
        leg = routes.leg(line, landing_stop(landing("A", at=(2500.0, -4000.0))), None, frozenset(SIX[:turn]))
        assert leg is not None
        back.append(leg.mm)
    assert bound(search, 1, nothing_waits=True) == judged.worth[2] + back[-1] - max(back)


def test_a_place_takes_no_more_than_it_may() -> None:
    # A beside the house takes 120 kg, two frames of 60 kg; the others come from 100 m off, each way but one.
    near, far = landing("A", at=(2500.0, -4000.0), most_kg=120.0), landing("B", at=(2500.0, -100_000.0))
    search = LoadSearch(six(places=(near, far), limits=WIDE), Solver(Clock(60.0)), 5.0)
    least = bound(search, 2, nothing_waits=True)
    assert least is not None
    assert least >= 7 * 96_000
    free = LoadSearch(
        six(places=(landing("A", at=(2500.0, -4000.0)), far), limits=WIDE), Solver(Clock(60.0)), 5.0
    )
    least = bound(free, 2, nothing_waits=True)
    assert least is not None
    assert least < 100_000


def test_a_frame_too_heavy_for_every_place_leaves_no_load() -> None:
    search = LoadSearch(six(places=(landing("A", most_kg=100.0),), limits=WIDE), Solver(Clock(60.0)), 5.0)
    assert bound(search, 1, nothing_waits=True) is None
