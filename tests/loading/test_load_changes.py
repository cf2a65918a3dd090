"""The fewest changes to delivered packs, by hand and against trying all of them."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, landing, pack, six

from packseq.loading.changes import as_delivered, fewest_changes
from packseq.loading.moved import moved_between
from packseq.loading.search import best_load
from packseq.plan.load import LaidPack
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.stacks import pack_of_layers
from packseq.standup.search import plan_standup


def test_moving_one_frame_by_hand() -> None:
    # One way anticlockwise: S1, S2, E1, N1, N2, W1; any overhang. Delivered from the top W1, S1, S2, E1,
    # N1, N2: only W1 lies above what is stood first. Put at the bottom, nothing is lifted twice: one frame
    # moved.
    house = six(places=(landing("A"),), limits=LoadLimits(overhang_mm=2000.0))
    delivered = pack_of_layers(
        house.scenario.landings["A"], [("W1",), *((name,) for name in SIX[:-1])], house.scenario.frames
    )
    house = replace(house, scenario=replace(house.scenario, packs={"A": delivered}))
    plan = plan_standup(house, limit_s=5)
    changes = fewest_changes(house, plan, best_load(house, limit_s=5), limit_s=10)
    assert (changes.delivered_lifts, changes.delivered_proven, changes.eased) == (1, True, ())
    (step,) = changes.steps
    assert (step.extra_lifts, step.moved, step.at_least, step.proven) == (0, ("W1",), 1, True)


def test_limits_that_the_delivered_packs_break_are_taken_as_delivered() -> None:
    # S1 on S2 reaches 500 past it; six layers and 360 kg.
    house = six(limits=LoadLimits(overhang_mm=100.0, most_layers=5, most_kg=360.0, apart=(("S1", "S2"),)))
    limits, eased = as_delivered(house.scenario, [pack("A", "N2 S1 S2 E1 N1 W1")])
    assert eased == ("most_layers", "overhang_mm", "apart")
    assert (limits.overhang_mm, limits.most_layers, limits.most_kg, limits.apart) == (500.0, 6, 360.0, ())


def stays(before: tuple[LaidPack, ...], after: tuple[LaidPack, ...], kept: tuple[str, ...]) -> bool:
    """Tell whether these frames lie to one another as before, all in the pack where they were."""

    def depths(packs: tuple[LaidPack, ...]) -> dict[str, tuple[str, int]]:
        return {
            name: (each.name, depth)
            for each in packs
            for depth, layer in enumerate(each.layers)
            for name in layer.frames
        }

    was, now = depths(before), depths(after)
    if any(was[name][0] != now[name][0] for name in kept):
        return False
    for one, other in combinations(kept, 2):
        if was[one][0] == was[other][0]:
            then, later = was[one][1] - was[other][1], now[one][1] - now[other][1]
            if (then > 0) != (later > 0) or (then == 0) != (later == 0):
                return False
    return True


@st.composite
def _packs(draw: st.DrawFn) -> tuple[LaidPack, ...]:
    order = draw(st.permutations(SIX))
    cut = draw(st.integers(1, 6))
    packs = []
    for name, part in (("A", order[:cut]), ("B", order[cut:])):
        if part:
            joins = [draw(st.sampled_from(" +")) for _ in part[1:]]
            text = "".join(chain.from_iterable(zip(part, [*joins, ""], strict=True)))
            packs.append(pack(name, text))
    return tuple(packs)


@settings(max_examples=80, deadline=None)
@given(before=_packs(), after=_packs())
def test_frames_moved_against_all_choices(before: tuple[LaidPack, ...], after: tuple[LaidPack, ...]) -> None:
    fewest = min(
        count
        for count in range(7)
        if any(stays(before, after, kept) for kept in combinations(SIX, 6 - count))
    )
    assert len(moved_between(before, after, SIX)) == fewest
