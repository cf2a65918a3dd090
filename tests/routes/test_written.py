"""Routes that somebody wrote down, held against what stands."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from routes_layouts import at, door, site, wall
from test_routes_oracle import Layout, layouts

from packseq.geometry import Point
from packseq.routes.engine import build_routes
from packseq.routes.values import frame_stop, whole_points

BELOW, ABOVE = at(2000, -1000), at(2000, 1000)
WALL = wall("W1", (0, 0), (4000, 0))
STANDS = frozenset({"W1"})


def walkable(points: tuple[Point, ...], standing: frozenset[str] = STANDS) -> bool:
    return build_routes(site([WALL]), (BELOW, ABOVE)).walkable(BELOW, ABOVE, points, None, standing)


@pytest.mark.parametrize(
    ("points", "can"),
    [
        (((2000, -1000), (2000, 1000)), False),
        (((2000, -1000), (4000, -45), (4000, 45), (2000, 1000)), True),
        (((2000, -1000), (5000, 0), (2000, 1000)), True),
        # A corner written a millimetre inside what stands is rounding; one three inside is not.
        (((2000, -1000), (3999, -45), (3999, 45), (2000, 1000)), True),
        (((2000, -1000), (3997, -45), (3997, 45), (2000, 1000)), False),
    ],
)
def test_a_route_past_the_end_of_a_wall(points: tuple[Point, ...], can: bool) -> None:
    assert walkable(points) == can
    assert walkable(points, frozenset())


def test_a_route_through_a_door_for_those_whom_it_lets_through() -> None:
    tall = wall("T1", (0, 5000), (2000, 5000))
    frames = [wall("W1", (0, 0), (4000, 0), door(1500)), tall]
    routes = build_routes(site(frames), (BELOW, ABOVE))
    straight = ((2000, -1000), (2000, 1000))
    assert routes.walkable(BELOW, ABOVE, straight, None, STANDS)
    # 900 is left of the door's width: a frame 2400 tall does not go through at any tilt.
    assert not routes.walkable(BELOW, ABOVE, straight, tall, STANDS)


def test_a_team_leaves_a_frame_on_either_side_of_it() -> None:
    routes = build_routes(site([WALL]), (BELOW, ABOVE))
    middle = frame_stop(WALL)
    for end in (BELOW, ABOVE):
        assert routes.walkable(middle, end, (middle.point, end.point), None, STANDS)


def test_between_levels_and_standing_still_nothing_is_crossed() -> None:
    upstairs = at(2000, 1000, level=2)
    routes = build_routes(site([WALL]), (BELOW, upstairs))
    assert routes.walkable(BELOW, upstairs, (BELOW.point, upstairs.point), None, STANDS)
    assert routes.walkable(BELOW, BELOW, (BELOW.point,), None, STANDS)


@settings(max_examples=60, deadline=None)
@given(layout=layouts())
def test_every_shortest_route_is_walkable_in_whole_mm(layout: Layout) -> None:
    routes, way = layout.routes(), (layout.start, layout.end)
    leg = routes.leg(*way, layout.carried, layout.standing)
    if leg is not None:
        assert routes.walkable(*way, whole_points(leg.points), layout.carried, layout.standing)
