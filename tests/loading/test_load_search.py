"""The search for loads: promises, proofs, what limits cost, all worked by hand on six frames."""

from __future__ import annotations

import pytest
from load_houses import landing, pack, six

from packseq.check import replay
from packseq.check.loading import broken_load_rules
from packseq.errors import InputError, NoPlanError
from packseq.house.model import House
from packseq.loading.assemble import Arranged
from packseq.loading.best import BestLoad, best_of_all
from packseq.loading.easing import LimitCost, limit_costs
from packseq.loading.judge import judge
from packseq.loading.search import LoadSearch, best_load
from packseq.scenario.loadlimits import Deck, LoadLimits
from packseq.standup.solver import Clock, Solver

# Anticlockwise the order is S1, S2, E1, N1, N2, W1 (3000, 2000, 4000, 4000, 1000, 4000 mm), clockwise S2, S1,
# W1, N2, N1, E1 (2000, 3000, 4000, 1000, 4000, 4000).
ONE = (landing("A"),)
ALONE = {"end_to_end": False, "side_by_side": False}


def found(house: House) -> BestLoad:
    best = best_load(house, limit_s=5)
    lifted = [move.frame for move in best.plan.moves]
    assert broken_load_rules(best.house.scenario, best.load, lifted) == ()
    assert replay(best.house, best.plan).kept
    assert replay(best.house, best.plan).cost.extra_lifts == best.extra_lifts
    return best


def test_one_pack_by_hand() -> None:
    # Each frame in a layer of its own, nothing overhangs: from the top lengths never fall. 4000s at the
    # bottom in any order, then S1, S2, N2 at the top. Clockwise: N2 lies above S2, S1, which are stood
    # first: it waits. The 4000s W1, N1, E1 lie beneath it too, as they are stood. S2 over S1 over W1 over
    # N1 over E1 is stand order: one extra lift. None is not possible: N2 is stood after longer frames,
    # which lie beneath it.
    best = found(six(places=ONE, limits=LoadLimits(overhang_mm=0.0, end_to_end=False, side_by_side=False)))
    assert [(stage.value, stage.status) for stage in best.stages[:2]] == [(1, "optimal"), (1, "optimal")]


def test_a_second_pack_frees_it() -> None:
    # N2 alone in the second pack: no extra lift. One pack costs one, so two packs are the fewest.
    limits = LoadLimits(overhang_mm=0.0, end_to_end=False, side_by_side=False)
    best = found(six(limits=limits))
    assert [(stage.value, stage.status) for stage in best.stages[:2]] == [(0, "optimal"), (2, "optimal")]


def test_what_a_limit_costs_by_hand() -> None:
    # As above, one extra lift. Clockwise S2, S1, W1, N2, N1, E1 from the top: W1 over N2 reaches (4000 -
    # 1000) / 2 = 1500 past it. Anticlockwise E1, N1 over N2 reach as far. Sharing: N2 lies end to end with
    # S1 only in 4000: clockwise N2 is stood after W1, which is after S1: S1 and N2 in one layer need W1
    # above them or beneath: above S1 means that W1 is lifted first. Anticlockwise E1, N1 come between S1
    # and N2. With S2 alike. So sharing frees nothing.
    house = six(places=ONE, limits=LoadLimits(overhang_mm=0.0, end_to_end=False, side_by_side=False))
    best = found(house)
    same, told = limit_costs(best, limit_s=5)
    assert same.extra_lifts == 1
    costs = {cost.key: cost for cost in told}
    assert costs["overhang_mm"] == LimitCost("overhang_mm", 0.0, 1500.0, 1, 0, nearest=True)
    assert costs["landing places"] == LimitCost("landing places", 1.0, 2.0, 1, 0, nearest=True)
    assert "end_to_end" not in costs
    assert "most_kg" not in costs


def test_a_mass_limit_that_costs_a_lift() -> None:
    # Two places. Lightly limited, N2 goes alone: 300 kg in one pack. With at most 240 kg, four frames, N2
    # has a frame beside it in its pack: from the top S2, then N2 beneath? S2, 2000, on N2 reaches 500 past
    # it. N2 above any frame stood after it needs none: clockwise N1 and E1 are stood after N2, so N2, N1,
    # E1 is a pack in stand order, S2, S1, W1 the other. No extra lift at 180 kg either.
    limits = LoadLimits(overhang_mm=0.0, end_to_end=False, side_by_side=False, most_kg=180.0)
    assert found(six(limits=limits)).extra_lifts == 0


def test_a_load_found_without_a_limit_that_keeps_it_is_the_better_one() -> None:
    # W1 laid over S1, which is stood first: one extra lift, though none is needed. Whichever limit is
    # taken away first, the load then found breaks none.
    house = six(limits=LoadLimits(overhang_mm=500.0))
    search = LoadSearch(house, Solver(Clock(5.0)), 5.0)
    packs = (pack("A", "S2 N2 W1 S1"), pack("B", "E1 N1"))
    order = ("S1", "S2", "E1", "N1", "N2", "W1")
    job = search.jobs[1]
    poor = judge(job, Arranged(packs, order), search.standing[job.direction].routes)
    assert poor.kept
    assert poor.worth[0] == 3
    better, costs = limit_costs(best_of_all(poor, (0, 1, 0)), limit_s=5)
    assert (better.extra_lifts, costs) == (0, ())
    assert broken_load_rules(house.scenario, better.load) == ()


def test_what_a_landing_place_and_a_deck_cost() -> None:
    # One place takes one frame only, the other all; the deck takes one pack. So one pack, which costs one
    # extra lift (see the first test); without the deck N2 goes alone.
    limits = LoadLimits(overhang_mm=0.0, end_to_end=False, side_by_side=False)
    house = six(limits=limits, decks=(Deck("short", 4000.0, 1000.0),))
    best, costs = limit_costs(found(house), limit_s=1.5)
    assert best.extra_lifts == 1
    assert next(cost for cost in costs if cost.key == "deck") == LimitCost(
        "deck", None, None, 1, 0, nearest=False
    )


def test_zero_limits_leave_nothing_to_tell() -> None:
    best = found(six())
    assert limit_costs(best, limit_s=5) == (best, ())


def test_frames_travel_together_and_apart() -> None:
    limits = LoadLimits(together=(("S1", "N2"), ("N2", "W1")), apart=(("E1", "S1"),))
    best = found(six(limits=limits))
    homes = {frame: each.name for each in best.load.packs for frame in each.frames}
    assert homes["S1"] == homes["N2"] == homes["W1"] != homes["E1"]


def test_packs_travel_in_the_order_wanted() -> None:
    decks = (Deck("one", 4000.0, 1000.0), Deck("two", 4000.0, 1000.0))
    best = found(six(limits=LoadLimits(apart=(("S1", "E1"),)), decks=decks))
    stood = [move.frame for move in best.plan.moves if move.do == "stand"]
    first = [min(stood.index(name) for name in each.frames) for each in best.load.packs]
    assert first == sorted(first)
    assert [deck.packs for deck in best.load.decks] == [(each.name,) for each in best.load.packs]


def test_the_heavier_pack_lands_where_it_may() -> None:
    places = (landing("A", most_kg=130.0), landing("B", at=(0.0, -26_000.0)))
    best = found(six(places=places, limits=LoadLimits(most_kg=300.0)))
    mass = {each.name: each.mass_kg for each in best.packs}
    assert mass["A"] <= 130.0
    assert mass["B"] <= 300.0


def test_the_same_search_finds_the_same_load() -> None:
    assert best_load(six(), limit_s=5).load == best_load(six(), limit_s=5).load


@pytest.mark.parametrize(
    ("house", "rules", "text"),
    [
        (six(limits=LoadLimits(longest_mm=3999.0)), ("length",), "E1 is 4000 mm long, a pack at most 3999"),
        (six(limits=LoadLimits(widest_mm=2000.0)), ("width",), "S1 is 2400 mm high and lies across the pack"),
        (six(limits=LoadLimits(most_kg=59.0)), ("mass",), "S1 weighs 60 kg, at most 59 kg can be landed"),
        (
            six(limits=LoadLimits(most_kg=100.0, together=(("S1", "S2"),))),
            ("mass", "together"),
            "S1, S2 must travel together and weigh 120 kg, at most 100 kg can be landed",
        ),
        (
            six(limits=LoadLimits(apart=(("S1", "S2", "E1"),))),
            ("apart", "pack-count"),
            "no two of S1, S2, E1 may be in one pack, but there are 2 landing places",
        ),
        (
            six(limits=LoadLimits(most_kg=120.0)),
            ("mass", "height", "pack-count"),
            "the frames of level 1 need at least 3 packs by mass and layers, there are 2 landing places",
        ),
        (
            six(limits=LoadLimits(most_height_mm=180.0)),
            ("height",),
            "S1 is 90 mm thick, a pack has room for 80",
        ),
    ],
)
def test_what_no_load_keeps_is_named(house: House, rules: tuple[str, ...], text: str) -> None:
    with pytest.raises(NoPlanError) as error:
        best_load(house, limit_s=5)
    first = error.value.conflicts[0]
    assert (first.rules, first.text[: len(text)]) == (rules, text)


def test_a_level_without_a_landing_place() -> None:
    with pytest.raises(InputError, match="no \\[\\[pack\\]\\] says where packs of level 1 are landed"):
        best_load(six(places=(landing("A", level=2),)), limit_s=5)


def test_helpers_read_packs_from_a_line() -> None:
    assert pack("A", "S1+N2 W1").frames == ("S1", "N2", "W1")
