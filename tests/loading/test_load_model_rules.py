"""Each rule of the loading model: packs at its edge, which it takes, and just past it, which it does not."""

from __future__ import annotations

import pytest
from load_houses import landing, pack, six
from ortools.sat.python import cp_model

from packseq.house.model import House
from packseq.loading.job import LoadJob
from packseq.loading.model import hint
from packseq.loading.rules import RULES
from packseq.loading.variables import LoadVariables
from packseq.plan.load import LaidPack
from packseq.scenario.loadlimits import Deck, LoadLimits

LONG_DOWN = (pack("A", "N2 S2 S1 E1 N1 W1"),)
TWO = (pack("A", "N2 S1 E1"), pack("B", "S2 N1 W1"))
AROUND = ("S1", "S2", "E1", "N1", "N2", "W1")


def allows(house: House, rule: str, *packs: LaidPack, order: tuple[str, ...] | None = None) -> bool:
    """Tell whether one rule of the model alone takes these packs, whatever is then lifted twice."""
    job = LoadJob(house, "anticlockwise", {1: 2})
    v = LoadVariables(job)
    RULES[rule](v)
    held = {
        (name, each.name, depth)
        for each in packs
        for depth, layer in enumerate(each.layers)
        for name in layer.frames
    }
    # A layer too many for the model is one that its rules on height leave no room for.
    if not held <= set(v.at):
        return False
    for key in held:
        v.model.add(v.at[key] == 1)
    for each in packs:
        for depth, layer in enumerate(each.layers):
            if layer.side_by_side:
                v.model.add(v.beside[each.name, depth] == 1)
    if order is not None:
        for place, name in enumerate(order):
            v.model.add(v.up[name] == place)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return solver.solve(v.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)


@pytest.mark.parametrize(
    ("rule", "at_edge", "past_it"),
    [
        ("mass", LoadLimits(most_kg=360.0), LoadLimits(most_kg=359.0)),
        ("height", LoadLimits(most_layers=6), LoadLimits(most_layers=5)),
        ("height", LoadLimits(most_height_mm=640.0), LoadLimits(most_height_mm=639.0)),
        ("length", LoadLimits(longest_mm=4000.0), LoadLimits(longest_mm=3999.0)),
        ("width", LoadLimits(widest_mm=2400.0), LoadLimits(widest_mm=2399.0)),
    ],
)
def test_limits_of_a_whole_pack(rule: str, at_edge: LoadLimits, past_it: LoadLimits) -> None:
    assert allows(six(limits=at_edge), rule, *LONG_DOWN)
    assert not allows(six(limits=past_it), rule, *LONG_DOWN)


def test_a_landing_place_takes_its_own_mass() -> None:
    places = (landing("A", most_kg=359.0), landing("B"))
    assert not allows(six(places=places), "mass", *LONG_DOWN)
    assert allows(six(places=places), "mass", *TWO)


def test_support() -> None:
    # S1, 3000, on S2, 2000: 500 mm past it.
    packs = (pack("A", "N2 S1 S2 E1 N1 W1"),)
    assert allows(six(limits=LoadLimits(overhang_mm=500.0)), "support", *packs)
    assert not allows(six(limits=LoadLimits(overhang_mm=499.0)), "support", *packs)


def test_support_counts_any_layer_beneath() -> None:
    # E1, 4000, two layers above S2, 2000: 1000 mm past it, though only 500 past S1 between them.
    packs = (pack("A", "E1 S1 S2 N1 W1 N2"),)
    assert not allows(six(limits=LoadLimits(overhang_mm=999.0)), "support", *packs)


def test_rows_carry_as_one_but_only_as_wide_as_the_lowest() -> None:
    packs = (pack("A", "S2 E1 S1+N2 N1 W1"),)
    assert allows(six(), "support", *packs)
    assert not allows(six(heights={"N2": 1600.0}), "support", *packs)
    assert allows(six(heights={"N2": 1800.0}), "support", *packs)


def test_balance() -> None:
    # Worked in test_load_check: the centre of gravity lies 65 mm off.
    packs = (pack("A", "S2 E1 S1+N2 N1 W1"),)
    for balance_mm, taken in ((65.0, True), (64.0, False)):
        limits = LoadLimits(balance_mm=balance_mm, most_kg=5000.0)
        assert allows(six(masses={"N2": 100.0, "W1": 1507.0}, limits=limits), "balance", *packs) == taken


def test_layer_room() -> None:
    packs = (pack("A", "S2 S1+N2 E1 N1 W1"),)
    assert allows(six(), "layer-room", *packs)
    assert not allows(six(limits=LoadLimits(layer_gap_mm=1.0)), "layer-room", *packs)
    assert not allows(six(limits=LoadLimits(end_to_end=False)), "layer-room", *packs)
    assert not allows(six(), "layer-room", pack("A", "N2 S1+S2 E1 N1 W1"))


def test_side_by_side() -> None:
    packs = (pack("A", "N2 S1|S2 E1 N1 W1"),)
    assert allows(six(heights={"S1": 1200.0, "S2": 1200.0}), "layer-room", *packs)
    assert not allows(six(heights={"S1": 1201.0, "S2": 1200.0}), "layer-room", *packs)


def test_together_and_apart() -> None:
    assert allows(six(limits=LoadLimits(together=(("S1", "E1"),))), "together", *TWO)
    assert not allows(six(limits=LoadLimits(together=(("S1", "S2"),))), "together", *TWO)
    assert allows(six(limits=LoadLimits(apart=(("S1", "S2"),))), "apart", *TWO)
    assert not allows(six(limits=LoadLimits(apart=(("S1", "S2", "E1"),))), "apart", *TWO)


def test_pack_count() -> None:
    assert allows(six(limits=LoadLimits(most_packs=1)), "pack-count", *LONG_DOWN)
    assert not allows(six(limits=LoadLimits(most_packs=1)), "pack-count", *TWO)


def test_levels_lie_apart_as_the_model_is_made() -> None:
    house = six()
    assert allows(house, "level-apart", *TWO)
    v = LoadVariables(LoadJob(house, "anticlockwise", {1: 2}))
    assert {place for _, place in v.inside} == {"A", "B"}


def test_delivery_order() -> None:
    # Wanted: A, which has S1, stood first; then B. Each is 4000 mm long and weighs 180 kg.
    for decks, taken in (
        ((Deck("one", 8000.0, 360.0),), True),
        ((Deck("one", 7999.0, 360.0),), False),
        ((Deck("one", 8000.0, 359.0),), False),
        ((Deck("one", 4000.0, 180.0), Deck("two", 4000.0, 180.0)), True),
    ):
        assert allows(six(decks=decks), "delivery-order", *TWO, order=AROUND) == taken
    # A weighs 240 and is wanted first, so it must go on the first deck, which takes 180.
    heavy = six(masses={"S1": 120.0}, decks=(Deck("one", 4000.0, 180.0), Deck("two", 4000.0, 240.0)))
    assert not allows(heavy, "delivery-order", *TWO, order=AROUND)


def test_who_waits_is_told_by_the_order_alone() -> None:
    # A from the top: N2, S1, E1; B: S2, N1, W1. Anticlockwise N2 stands after S1 and E1 beneath it: it waits.
    v = LoadVariables(LoadJob(six(), "anticlockwise", {1: 2}))
    hint(v, TWO, AROUND)
    for each in TWO:
        for depth, layer in enumerate(each.layers):
            v.model.add(v.at[layer.frames[0], each.name, depth] == 1)
    v.model.minimize(v.extra_lifts)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(v.model) == cp_model.OPTIMAL
    assert solver.objective_value == 1
    assert solver.boolean_value(v.aside["N2"])
