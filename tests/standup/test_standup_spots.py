"""Spots that the plan proposes where the scenario names none, and the least that any plan walks."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest
import shapely
from drawn_houses import houses
from hypothesis import given, settings
from oracle import Oracle
from small_house import frame, house_of, hut, lean, pack, plan_of, round_touches
from standup_jobs import checked, demo

from packseq.baseline import by_frame_list, by_nearest
from packseq.check import replay
from packseq.geometry import Ring
from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Opening, Place, Scenario, Spot, StandChoices
from packseq.standup.bounds import least_any_plan_walks
from packseq.standup.jobs import all_jobs
from packseq.standup.search import plan_standup
from packseq.standup.staging import proposed_spots, why_there
from packseq.standup.staging.ground import level_ground

DEMOS = ["garden-room", "three-bedroom", "two-level", "l-shaped"]


def without_spots(house: House) -> House:
    return replace(house, scenario=replace(house.scenario, spots={}))


def places_of(scenario: Scenario) -> Mapping[str, Place]:
    return {name: pack.places[0] for name, pack in scenario.packs.items()}


def shapes(spots: Mapping[str, Spot]) -> list[shapely.Polygon]:
    return [shapely.Polygon(spot.footprint) for spot in spots.values()]


def proposed(house: House) -> dict[str, Spot]:
    return proposed_spots(house, places_of(house.scenario))


def barred_in(house: House, *outlines: Ring) -> House:
    return replace(house, scenario=replace(house.scenario, no_go=outlines))


@pytest.mark.parametrize("name", DEMOS)
def test_proposed_spots_are_clear_of_frames_packs_no_go_areas_and_one_another(name: str) -> None:
    house = without_spots(demo(name))
    hold_clear(house, proposed(house))


def hold_clear(house: House, spots: Mapping[str, Spot]) -> None:
    """Hold each spot to what its level has of lines, packs and no-go areas, and to the other spots."""
    scenario, places = house.scenario, places_of(house.scenario)
    for spot, shape in zip(spots.values(), shapes(spots), strict=True):
        ground = [frame.footprint for frame in scenario.frames.values() if frame.level == spot.level]
        ground += [
            pack.footprint(places[pack.name]) for pack in scenario.packs.values() if pack.level == spot.level
        ]
        assert all(shape.disjoint(shapely.Polygon(other)) for other in (*ground, *scenario.no_go))
        others = [other for name, other in spots.items() if name != spot.name and other.level == spot.level]
        assert all(shape.disjoint(shapely.Polygon(other.footprint)) for other in others)


@pytest.mark.parametrize("demo_name", DEMOS)
def test_a_level_has_few_proposed_spots_and_room_for_every_frame_that_could_wait(demo_name: str) -> None:
    house = without_spots(demo(demo_name))
    spots = proposed(house).values()
    for level in house.levels:
        packs = [each for each in house.scenario.packs.values() if each.level == level.level]
        assert 1 <= sum(spot.level == level.level for spot in spots) <= len(packs) + 5
        for each in packs:
            for name in (name for layer in each.layers[:-1] for name in layer):
                assert any(spot.takes(house.scenario.frames[name]) for spot in spots), name


def test_a_spot_of_an_upper_level_lies_on_its_floor() -> None:
    house = without_spots(demo("two-level"))
    floor = shapely.box(1800 - 50, -50, 10_850, 7250)
    upper = [spot for spot in proposed(house).values() if spot.level == 2]
    assert upper
    assert all(floor.covers(shapely.Polygon(spot.footprint)) for spot in upper)


def test_a_no_go_area_moves_a_proposed_spot() -> None:
    house = without_spots(demo("garden-room"))
    first = next(iter(proposed(house).values()))
    after = proposed(barred_in(house, first.footprint))
    assert all(shape.disjoint(shapely.Polygon(first.footprint)) for shape in shapes(after))
    assert first.at not in {spot.at for spot in after.values()}


def test_where_there_is_no_room_no_spot_is_proposed() -> None:
    far = 100_000.0
    everywhere = ((-far, -far), (far, -far), (far, far), (-far, far))
    assert proposed(barred_in(without_spots(demo("garden-room")), everywhere)) == {}


def test_beside_its_pack_a_lean_takes_every_frame_of_it() -> None:
    house = without_spots(demo("garden-room"))
    lean = proposed(house)["S1"]
    assert lean.kind == "lean"
    assert all(lean.takes(frame) for frame in house.scenario.frames.values())
    assert lean.holds == 8


def walled_room(*, door: float | None = None) -> House:
    """Return a square room of 8 m, walls 90 thick on their centre lines, its pack 6 m south of it.

    I, across the middle of the room, lies on top, so it must wait for the walls. E has a door from that
    distance on.
    """
    lines = {
        "S": ((0, 0), (8000, 0)),
        "E": ((8000, 0), (8000, 8000)),
        "N": ((8000, 8000), (0, 8000)),
        "W": ((0, 8000), (0, 0)),
        "I": ((2500, 5000), (5500, 5000)),
    }
    frames = [frame(name, line, solid=True) for name, line in lines.items()]
    if door is not None:
        frames[1] = replace(frames[1], openings=(Opening("door", door, 900, 0, 2040),))
    level = LevelHouse(1, ("S", "E", "N", "W"), ("S",), closed=True, internals=("I",))
    packs = (pack("A", (4000, -7200), (("I",), ("S", "E", "N", "W"))),)
    return house_of(frames, packs, (level,), round_touches(level.perimeter, {"I": ("N",)}))


def test_a_pile_lies_on_the_way_of_the_frame_that_waits_as_near_to_its_line_as_can_be() -> None:
    # From the pack (4000, -7200) north to the middle of I's line (4000, 5000). The pile, 3000 x 2400,
    # keeps 100 off the line, which is 90 thick: its middle lies at y = 5000 - 45 - 100 - 1200 = 3655 at most.
    # Places are tried every 500.
    pile = next(spot for spot in proposed(walled_room()).values() if spot.kind == "pile")
    assert pile.size_mm == (3000, 2400)
    assert math.dist(pile.at, (4000, 3655)) <= 500
    assert pile.at[1] <= 3655


@pytest.mark.parametrize("door", [500.0, 3500.0, 6500.0])
def test_nothing_waits_before_a_door(door: float) -> None:
    # The door is 900 wide from `door` north of the corner; 900 are kept clear on both sides of the wall.
    clear = shapely.box(8000 - 945, door, 8000 + 945, door + 900)
    found = shapes(proposed(walled_room(door=door)))
    assert found
    assert all(shape.intersection(clear).area == 0 for shape in found)


@pytest.mark.parametrize(("long_mm", "passes"), [(6610.0, True), (6810.0, False)])
def test_people_get_past_a_spot_from_door_to_door(long_mm: float, *, passes: bool) -> None:
    # Two doors in the east wall, south and north of a spot across the room, which is 7910 clear. 650 are left
    # at each end of the shorter one, 550 of the longer; 600 are wanted.
    house = walled_room(door=300)
    east = house.scenario.frames["E"]
    doors = (*east.openings, replace(east.openings[0], from_mm=6600.0))
    frames = {**house.scenario.frames, "E": replace(east, openings=doors)}
    house = replace(house, scenario=replace(house.scenario, frames=frames))
    ground = level_ground(house, house.levels[0], places_of(house.scenario))
    across = Spot("S1", 1, (4000, 2500), 0.0, (long_mm, 2400), "pile", 8)
    assert ground.leaves_a_way(shapely.Polygon(across.footprint)) is passes


@settings(max_examples=25, deadline=None, derandomize=True)
@given(houses())
def test_no_proposed_spot_of_any_house_covers_what_it_must_not(house: House) -> None:
    bare = without_spots(house)
    hold_clear(bare, proposed(bare))


def test_a_frame_leans_on_a_wall_only_once_that_stands() -> None:
    # The lean rests on S1, which is stood first; W1 lies on it and is set aside before.
    rests = replace(lean(), against=("S1",))
    house = without_spots(hut())
    plan = plan_of(replace(house, scenario=replace(house.scenario, spots={"L": rests})), "W1>L S1 E1 N1 W1")
    (broken,) = replay(replace(house, scenario=replace(house.scenario, spots={"L": rests})), plan).violations
    assert broken.rule == "spot-room"
    assert "leans on S1 before that stands" in broken.text


def test_the_search_waits_for_the_wall_that_a_lean_rests_on() -> None:
    # Anticlockwise S1, E1, N1, W1. From the top the pack has W1, N1, E1 on S1: all three wait. The near lean
    # rests on S1 and so is of no use; the far one is.
    near, far = replace(lean("L", (0, -3000)), against=("S1",)), lean("F", (0, -12_000))
    house = hut(
        (("W1",), ("N1",), ("E1",), ("S1",)), spots=(near, far), stand=StandChoices(direction="anticlockwise")
    )
    plan = plan_standup(house, limit_s=20)
    checked(house, plan)
    assert {move.to.spot for move in plan.moves if move.to is not None} == {"F"}


@pytest.mark.parametrize(("name", "limit_s"), [("garden-room", 60.0), ("two-level", 12.0)])
def test_a_scenario_without_spots_plans_and_verifies(name: str, limit_s: float) -> None:
    house = without_spots(demo(name))
    plan = plan_standup(house, limit_s=limit_s)
    done = checked(house, plan)
    assert plan.spots
    assert all(spot.why and "from where" in spot.why for spot in plan.spots)
    # On two-level every plan has 16 at least; what spots are proposed decides how near a plan comes.
    least = {"garden-room": 4, "two-level": 16}[name]
    assert done.cost.extra_lifts == least if name == "garden-room" else done.cost.extra_lifts >= least


@pytest.mark.slow
@pytest.mark.parametrize(("name", "lifts"), [("three-bedroom", 15), ("l-shaped", 14)])
def test_a_large_scenario_without_spots_plans_and_verifies(name: str, lifts: int) -> None:
    house = without_spots(demo(name))
    plan = plan_standup(house, limit_s=60)
    assert checked(house, plan).cost.extra_lifts == lifts
    assert any("in the room between" in (spot.why or "") for spot in plan.spots)


def test_why_a_spot_in_a_room_is_there_is_told_by_the_walls_and_the_frames_that_wait() -> None:
    # (4000, 2400) lies nearer to S than to I, and nearer to both than to E and W. I's middle is (4000, 5000):
    # 2600; N's (4000, 8000): 5600; 4100 on average.
    house = walled_room()
    inside = Spot("S1", 1, (4000, 2400), 0.0, (4000, 2400), "pile", 8)
    places = places_of(house.scenario)
    assert why_there(house, places, inside, ["I"]) == "in the room between S and I, 3 m from where I stands"
    assert why_there(house, places, inside, []) == "in the room between S and I"
    rests = replace(inside, kind="lean", against=("S", "E"))
    assert why_there(house, places, rests, ["I", "N"]) == (
        "leaning on S and E once they stand and are braced, 4 m on average from where its 2 frames stand"
    )


@pytest.mark.parametrize("name", DEMOS)
def test_no_crew_without_a_plan_walks_less_than_any_plan_must(name: str) -> None:
    house = demo(name)
    for crew in (by_frame_list, by_nearest):
        plan = crew(house).plan
        if plan is not None:
            assert 0 < least_any_plan_walks(all_jobs(house)[0]) <= replay(house, plan).cost.walking_mm


@settings(max_examples=60, deadline=None, derandomize=True)
@given(houses())
def test_no_best_plan_walks_less_than_any_plan_must(house: House) -> None:
    best = Oracle(house).best()
    if best is not None:
        assert least_any_plan_walks(all_jobs(house)[0]) <= best.cost[1]


def test_the_least_that_any_plan_walks_by_hand() -> None:
    # Garden room, pack (3000, -2000), pile (7700, 2000), lean (2000, 2000). Carried at least, from the pack:
    # E1 and E2 (1500, 2045) 2536.1 each, E3 and E6 (2955, 4090) 5045.8 each, E4 and E5 (1500, 6135) 6315.7
    # each, N1 (1065, 4090) 4226.4, N2 (2010, 4090) 4557.2: 36578.8.
    # Then to the nearest place at least: E1 to the lean (500, 1955) 2017.9, E2 to the pack (1500, 2045)
    # 2536.1, E3 to the pile (1745, 90) 1747.3, E4 to the lean (2500, 2135) 3287.6, E5 to the lean (500, 2135)
    # 2192.8, E6 to the lean (1955, 90) 1957.1, N1 to the lean (2065, 90) 2067.0, N2 to the pile (2690, 90)
    # 2691.5: 18497.3, less the longest, E4's 3287.6, for the frame stood last: 15209.7.
    # Together 51788.5, in whole mm 51788, less 2 mm for each of 8 frames: 51772.
    house = demo("garden-room")
    assert least_any_plan_walks(all_jobs(house)[0]) == 51_772
