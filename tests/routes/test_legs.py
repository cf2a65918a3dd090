"""Legs worked by hand: straight, round an end, through openings, from a frame just stood."""

from __future__ import annotations

import math

import pytest
from routes_layouts import at, door, site, wall

from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Leg, frame_stop
from packseq.scenario.model import Crew, Frame, Opening, Pack, Place, Scenario, Spot

BELOW, ABOVE = at(2000, -1000), at(2000, 1000)
ROUND_THE_END_MM = 4523
"""From BELOW to ABOVE round either end of a wall from (0, 0) to (4000, 0), 90 thick:
2 x sqrt(2000^2 + 955^2) + 90 = 2 x 2216.309 + 90 = 4522.6."""


def long_wall(*openings: Opening) -> Frame:
    return wall("W1", (0, 0), (4000, 0), *openings)


def across(frame: Frame, carried: Frame | None = None) -> int:
    """Return the leg from BELOW to ABOVE with one frame standing, in mm."""
    others = () if carried is None else (carried,)
    routes = build_routes(site((frame, *others)), (BELOW, ABOVE))
    leg = routes.leg(BELOW, ABOVE, carried, frozenset({frame.name}))
    assert leg is not None
    return leg.mm


def test_straight_where_nothing_stands() -> None:
    routes = build_routes(site([long_wall()]), (BELOW, ABOVE))
    assert routes.leg(BELOW, ABOVE, None, frozenset()) == Leg(2000, ((2000, -1000), (2000, 1000)))


def test_round_the_end_of_a_wall() -> None:
    start, end = at(3000, -1045), at(3000, 1045)
    routes = build_routes(site([long_wall()]), (start, end))
    # To the corner (4000, -45): 1000 sqrt 2; past the end: 90; back: 1000 sqrt 2. Sum 2918.43.
    assert routes.leg(start, end, None, frozenset({"W1"})) == Leg(
        2918, ((3000, -1045), (4000, -45), (4000, 45), (3000, 1045))
    )


def test_along_a_wall_and_touching_a_corner_is_allowed() -> None:
    start, end = at(-1000, 45), at(5000, 45)
    routes = build_routes(site([long_wall()]), (start, end))
    assert routes.leg(start, end, None, frozenset({"W1"})) == Leg(6000, ((-1000, 45), (5000, 45)))


def test_staying_put_is_no_walk() -> None:
    routes = build_routes(site([long_wall()]), (BELOW,))
    assert routes.leg(BELOW, BELOW, None, frozenset({"W1"})) == Leg(0, ((2000, -1000),))


def test_staying_put_is_no_walk_even_where_a_frame_has_been_stood_since() -> None:
    on_wall = at(1000, 0)
    routes = build_routes(site([long_wall()]), (on_wall,))
    assert routes.leg(on_wall, on_wall, None, frozenset({"W1"})) == Leg(0, ((1000, 0),))


@pytest.mark.parametrize(
    ("opening", "expected_mm"),
    [
        (door(1500), 2000),  # the straight line leads through it
        (door(1500, sill_mm=1), ROUND_THE_END_MM),
        (door(1700, width_mm=600), 2000),
        (door(1700, width_mm=599), ROUND_THE_END_MM),
        (door(1500, head_mm=1900), 2000),
        (door(1500, head_mm=1899), ROUND_THE_END_MM),
        # Jambs at 3000 and 3600: to the jamb (3000, -45) sqrt(1000^2 + 955^2) = 1382.76; twice, and 90
        # through the wall: 2855.5.
        (door(3000, width_mm=600), 2856),
    ],
)
def test_empty_handed_through_an_opening(opening: Opening, expected_mm: int) -> None:
    assert across(long_wall(opening)) == expected_mm


@pytest.mark.parametrize(
    ("opening", "expected_mm"),
    [
        (door(1900, width_mm=190, head_mm=2400), 2000),  # upright: 190 - 2 x 50 = 90 clear
        (door(1900, width_mm=189, head_mm=2400), ROUND_THE_END_MM),
        # Under a 2040 head the frame must be tilted and needs 1416.703 clear (test_tilt.py), so 1516.7.
        (door(1240, width_mm=1517), 2000),
        (door(1240, width_mm=1516), ROUND_THE_END_MM),
        (door(1240, width_mm=1517, sill_mm=1), ROUND_THE_END_MM),
    ],
)
def test_carried_through_an_opening(opening: Opening, expected_mm: int) -> None:
    assert across(long_wall(opening), wall("F", (9000, 9000), (9000, 6000))) == expected_mm


def test_sizes_that_pass_differ_are_kept_apart() -> None:
    low = wall("LOW", (9000, 9000), (9000, 6000), height_mm=1200)
    tall = wall("TALL", (8000, 9000), (8000, 6000))
    frame = long_wall(door(1500))
    routes = build_routes(site((frame, low, tall)), (BELOW, ABOVE))
    lengths = [routes.leg(BELOW, ABOVE, carried, frozenset({"W1"})) for carried in (low, tall, None)]
    assert [leg and leg.mm for leg in lengths] == [2000, ROUND_THE_END_MM, 2000]


def test_openings_side_by_side_within_one_another_and_overlapping_leave_no_post() -> None:
    start, end = at(1000, 0), at(3500, 0)
    openings = (door(0, 2000), door(500, 700), door(1500, 1500), door(3000, 1000))
    routes = build_routes(site([long_wall(*openings)]), (start, end))
    assert routes.leg(start, end, None, frozenset({"W1"})) == Leg(2500, ((1000, 0), (3500, 0)))


def test_a_frame_just_stood_is_left_on_either_side() -> None:
    frame = long_wall()
    routes = build_routes(site([frame]), (BELOW, ABOVE))
    for end in (BELOW, ABOVE):
        assert routes.leg(frame_stop(frame), end, None, frozenset({"W1"})) == Leg(
            1000, ((2000, 0), end.point)
        )


def test_a_frame_just_stood_is_not_walked_along_past_a_neighbour() -> None:
    # W2 meets the north side of W1 at x = 1000. From W1's middle, room east of W2, to the west of W2.
    frame = long_wall()
    other = wall("W2", (1000, 45), (1000, 3000))
    end = at(500, 1045)
    routes = build_routes(site((frame, other)), (end,))
    # South of W1, round its end at x = 0: (2000, 0) to (0, -45) sqrt(2000^2 + 45^2) = 2000.51; 90 up;
    # (0, 45) to (500, 1045) sqrt(500^2 + 1000^2) = 1118.03. Sum 3208.5. Inside W1 and out under W2's
    # end to (0, 45) would be 90 less.
    leg = routes.leg(frame_stop(frame), end, None, frozenset({"W1", "W2"}))
    assert leg == Leg(3209, ((2000, 0), (0, -45), (0, 45), (500, 1045)))
    # Before W1 stands the way leads under W2's end, bending at its corner (955, 45):
    # sqrt(455^2 + 1000^2) + sqrt(1045^2 + 45^2) = 1098.65 + 1045.97 = 2144.6.
    brought = routes.leg(end, frame_stop(frame), frame, frozenset({"W2"}))
    assert brought == Leg(2145, ((500, 1045), (955, 45), (2000, 0)))


def test_a_neighbour_at_the_very_middle_is_left_on_either_side() -> None:
    frame = long_wall()
    other = wall("W2", (2000, 45), (2000, 3000))
    west, east = at(1000, 1000), at(3000, 1000)
    routes = build_routes(site((frame, other)), (west, east))
    for end in (west, east):
        leg = routes.leg(frame_stop(frame), end, None, frozenset({"W1", "W2"}))
        # Bending at W2's corner (2000 -+ 45, 45): sqrt(45^2 + 45^2) + sqrt(955^2 + 955^2) = 1414.2.
        assert leg is not None
        assert leg.mm == 1414


def test_a_frame_is_carried_into_the_gap_that_it_fills() -> None:
    # North and south stop 90 mm apart, where F is to run between them: a closed gap, but F's own place.
    north, south = wall("N", (0, 45), (0, 3000)), wall("S", (0, -45), (0, -3000))
    between = wall("F", (-2000, 0), (2000, 0))
    west, east = at(-1000, 0), at(1000, 0)
    routes = build_routes(site((north, south, between)), (west, east))
    standing = frozenset({"N", "S"})
    for stop in (west, east):
        assert routes.leg(stop, frame_stop(between), between, standing) == Leg(1000, (stop.point, (0, 0)))
    # The gap stays closed to a walk through it: round S's end (or N's) instead.
    # 2 x sqrt(955^2 + 3000^2) + 90 = 2 x 3148.337 + 90 = 6386.7.
    through = routes.leg(west, east, None, standing)
    assert through is not None
    assert through.mm == 6387


def test_only_frames_of_the_level_block_and_levels_are_joined_straight() -> None:
    upstairs = wall("U1", (0, 0), (4000, 0), level=2)
    up = at(2000, 1000, level=2)
    routes = build_routes(site((long_wall(), upstairs)), (BELOW, ABOVE, up))
    below = routes.leg(BELOW, ABOVE, None, frozenset({"U1"}))
    assert below is not None
    assert below.mm == 2000
    assert routes.leg(BELOW, up, None, frozenset({"W1", "U1"})) == Leg(2000, ((2000, -1000), (2000, 1000)))


def test_stops_of_a_scenario_are_packs_at_every_place_spots_and_middles() -> None:
    bare = site([long_wall()])
    pack = Pack("A", 1, (Place((0, -3000), 0), Place((5000, -3000), 90)), 0, (("W1",),), (1,), 4000, 2400)
    spot = Spot("S1", 1, (8000, -3000), 0, (5000, 2700), "pile", 5)
    scenario = Scenario(
        name=bare.name,
        slab=bare.slab,
        frames=bare.frames,
        packs={"A": pack},
        crew=Crew(people=4),
        spots={"S1": spot},
    )
    routes = build_routes(scenario, (BELOW,))
    assert routes.stops == (
        at(0, -3000),
        at(5000, -3000),
        at(8000, -3000),
        frame_stop(bare.frames["W1"]),
        BELOW,
    )
    with pytest.raises(KeyError):
        routes.leg(BELOW, ABOVE, None, frozenset())


def test_to_many_stops_at_once_as_one_by_one() -> None:
    frames = (
        long_wall(door(3000, 600)),
        wall("W2", (4000, 45), (4000, 3000)),
        wall("W3", (0, 45), (0, 3000)),
        wall("W4", (-45, 3045), (4045, 3045)),
        wall("W5", (1500, 45), (1500, 3000), door(100, 700, head_mm=1500)),
    )
    stops = (BELOW, ABOVE, at(500, 500), at(-1500, 2000), at(2000, 3045))
    routes: Routes = build_routes(site(frames), stops)
    standing = frozenset(frame.name for frame in frames)
    unreached = 0
    for carried in (None, frames[0]):
        for start in routes.stops:
            one_by_one = {end: routes.leg(start, end, carried, standing) for end in routes.stops}
            unreached += sum(leg is None for leg in one_by_one.values())
            assert routes.legs_from(start, carried, standing) == {
                end: leg.mm for end, leg in one_by_one.items() if leg is not None
            }
    assert unreached > 0


def test_the_points_of_a_leg_add_up_to_its_length() -> None:
    frames = (long_wall(), wall("W2", (4500, -2000), (4500, 2000)), wall("W3", (-45, 800), (3000, 800)))
    start, end = at(2000, -1000), at(1000, 1500)
    leg = build_routes(site(frames), (start, end)).leg(start, end, None, frozenset({"W1", "W2", "W3"}))
    assert leg is not None
    total = sum(math.dist(*pair) for pair in zip(leg.points, leg.points[1:], strict=False))
    assert abs(total - leg.mm) <= 0.5
