"""Ways in which the packs may land."""

from __future__ import annotations

from dataclasses import replace

from small_house import HUT_ROUND, hut, pack, two_floors

from packseq.house.model import House
from packseq.scenario.landing import MOST_LANDINGS, landings
from packseq.scenario.model import Pack, Place, Scenario


def with_places(each: Pack, *at: tuple[float, float]) -> Pack:
    return replace(each, places=tuple(Place(place, 0.0) for place in at))


def two_packs(first: tuple[tuple[float, float], ...], second: tuple[tuple[float, float], ...]) -> Scenario:
    """Return the hut in two packs of 8000 x 2400."""
    packs = (pack("A", (0, 0), (HUT_ROUND[:2],)), pack("B", (0, 0), (HUT_ROUND[2:],)))
    return hut(packs=(with_places(packs[0], *first), with_places(packs[1], *second))).scenario


def found(scenario: Scenario) -> list[list[tuple[float, float]]]:
    return [[place.at for place in landed.values()] for landed in landings(scenario).searched]


def test_every_pair_of_places_clear_of_one_another_the_first_of_each_first() -> None:
    near, far, side = (0.0, -5000.0), (0.0, -9000.0), (20_000.0, 0.0)
    assert found(two_packs((near, far), (far, side))) == [[near, far], [near, side], [far, side]]


def test_packs_that_only_touch_do_not_lie_on_one_another() -> None:
    # 2400 wide each, 2400 apart.
    assert len(found(two_packs(((0.0, 0.0), (0.0, 1.0)), ((0.0, 2400.0),)))) == 1


def test_no_pack_lands_on_a_no_go_area() -> None:
    near, far = (0.0, -5000.0), (0.0, -9000.0)
    scenario = two_packs((near, far), ((20_000.0, 0.0),))
    barred = replace(scenario, no_go=(((-100, -5100), (100, -5100), (100, -4900), (-100, -4900)),))
    assert found(barred) == [[far, (20_000.0, 0.0)]]


def test_where_no_landing_is_clear_the_first_of_each_is_taken() -> None:
    here, there = (0.0, 0.0), (100.0, 0.0)
    assert found(two_packs((here, there), (there, here))) == [[here, there]]


def test_packs_of_different_levels_may_lie_over_one_another() -> None:
    house: House = two_floors()
    packs = {name: with_places(each, (0.0, 0.0)) for name, each in house.scenario.packs.items()}
    assert found(replace(house.scenario, packs=packs)) == [[(0.0, 0.0), (0.0, 0.0)]]


def test_of_many_landings_the_first_and_those_with_the_least_carrying_are_searched() -> None:
    # Four places of A and four of B, in rows 20 m apart, all clear: 16, of which 12 are searched. The hut is
    # at y 0 to 8000, so of each row the places nearer to it carry less: the farthest of both is left out.
    away = (-5000.0, -9000.0, -13_000.0, -17_000.0)
    scenario = two_packs(tuple((0.0, y) for y in away[::-1]), tuple((20_000.0, y) for y in away[::-1]))
    tried = landings(scenario)
    assert tried.left_out
    assert len(tried.searched) == MOST_LANDINGS
    places = [[place.at[1] for place in landed.values()] for landed in tried.searched]
    assert places[0] == [-17_000.0, -17_000.0]
    assert places[1] == [-5000.0, -5000.0]
    assert [-17_000.0, -13_000.0] not in places


def test_where_packs_could_land_in_millions_of_ways_a_few_are_found_at_once() -> None:
    # 8 packs of 10 places each, and the last never clear of the first: 10 ** 8 ways, none of them clear.
    names = "ABCDEFGH"
    spread = {
        name: tuple((20_000.0 * row, 4000.0 * place) for place in range(10)) for row, name in enumerate(names)
    }
    spread["H"] = spread["A"][:1]
    spread["A"] = spread["A"][:1]
    packs = tuple(with_places(pack(name, (0, 0), (("S1",),)), *spread[name]) for name in names)
    scenario = replace(hut().scenario, packs={each.name: each for each in packs})
    tried = landings(scenario)
    assert tried.left_out
    assert len(tried.searched) == 1
