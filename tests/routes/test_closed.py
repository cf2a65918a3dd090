"""Gaps, seams, closed rooms and no-go areas; which frames close a way or hold a leg back."""

from __future__ import annotations

import pytest
from routes_layouts import at, door, site, wall

from packseq.geometry import Ring
from packseq.routes.engine import build_routes
from packseq.routes.values import Leg, frame_stop
from packseq.scenario.model import Frame

INSIDE, OUTSIDE = at(2000, 1500), at(2000, -2000)


def room(door_in_south: bool = False) -> tuple[Frame, ...]:
    """Return four walls about the room (45, 45) to (3955, 2955), end to side, all touching."""
    south = wall("S", (0, 0), (4000, 0), *([door(500)] if door_in_south else []))
    return (
        south,
        wall("E", (4000, 45), (4000, 3000)),
        wall("N", (4045, 3045), (-45, 3045)),
        wall("W", (0, 3000), (0, 45)),
    )


ALL_FOUR = frozenset("SENW")


@pytest.mark.parametrize(("gap_mm", "is_closed"), [(0, True), (60, True), (99, True), (100, False)])
def test_a_gap_under_100_mm_is_closed(gap_mm: float, *, is_closed: bool) -> None:
    frames = (wall("A", (-3000, 0), (0, 0)), wall("B", (gap_mm, 0), (gap_mm + 3000, 0)))
    start, end = at(gap_mm / 2, -1000), at(gap_mm / 2, 1000)
    routes = build_routes(site(frames), (start, end))
    leg = routes.leg(start, end, None, frozenset({"A", "B"}))
    assert leg is not None
    # Round either far end: 2 x sqrt((3000 + gap / 2)^2 + 955^2) + 90, at gap 0 6386.7.
    assert (leg.mm > 6386) is is_closed
    assert routes.leg(start, end, None, frozenset({"A"})) != leg or not is_closed


def test_a_gap_from_corner_to_corner_is_closed() -> None:
    # A's corner (0, 45) and B's corner (60, 105) are sqrt(60^2 + 60^2) = 84.9 mm apart.
    frames = (wall("A", (-3000, 0), (0, 0)), wall("B", (60, 150), (3060, 150)))
    start, end = at(-500, 600), at(600, -500)
    routes = build_routes(site(frames), (start, end))
    both = routes.leg(start, end, None, frozenset({"A", "B"}))
    assert both is not None
    assert both.mm > 4000
    # B 150 mm further on leaves sqrt(210^2 + 60^2) = 218 mm.
    apart = (frames[0], wall("B", (210, 150), (3210, 150)))
    open_leg = build_routes(site(apart), (start, end)).leg(start, end, None, frozenset({"A", "B"}))
    assert open_leg is not None
    assert open_leg.mm < 1700


def test_closing_a_gap_lengthens_no_route_past_it() -> None:
    # In line, 60 mm apart: along the faces the way is straight, with or without the gap.
    frames = (wall("A", (-3000, 0), (0, 0)), wall("B", (60, 0), (3060, 0)))
    start, end = at(-3500, 45), at(3560, 45)
    routes = build_routes(site(frames), (start, end))
    assert routes.leg(start, end, None, frozenset({"A", "B"})) == Leg(7060, (start.point, end.point))


def test_a_notched_corner_is_cut_across() -> None:
    # Centre lines that meet at (0, 0) leave a notch 45 x 45 at the outer corner; the shortest way
    # round goes from (0, -45) to (-45, 0): 1000 + 45 sqrt 2 + 1000 = 2063.6.
    frames = (wall("A", (0, 0), (3000, 0)), wall("B", (0, 0), (0, 3000)))
    start, end = at(1000, -45), at(-45, 1000)
    leg = build_routes(site(frames), (start, end)).leg(start, end, None, frozenset({"A", "B"}))
    assert leg == Leg(2064, ((1000, -45), (0, -45), (-45, 0), (-45, 1000)))


def test_touching_walls_cannot_be_squeezed_between() -> None:
    frames = room()
    routes = build_routes(site(frames), (INSIDE, OUTSIDE))
    assert routes.leg(INSIDE, OUTSIDE, None, ALL_FOUR) is None
    assert routes.closes(INSIDE, OUTSIDE, None, ALL_FOUR) == ALL_FOUR
    for name in ALL_FOUR:
        assert routes.leg(INSIDE, OUTSIDE, None, ALL_FOUR - {name}) is not None


def test_the_frame_brought_in_last_closes_the_room_behind_it() -> None:
    frames = room()
    routes = build_routes(site(frames), (INSIDE, OUTSIDE))
    for frame in frames:
        closed = ALL_FOUR - {frame.name}
        for side in (INSIDE, OUTSIDE):
            assert routes.leg(side, frame_stop(frame), frame, closed) is not None
            assert routes.leg(frame_stop(frame), side, None, ALL_FOUR) is not None


def test_a_door_lets_the_empty_handed_in_and_not_the_load() -> None:
    frames = (*room(door_in_south=True), wall("F", (1000, 1000), (3000, 1000)))
    routes = build_routes(site(frames), (INSIDE, OUTSIDE))
    assert routes.leg(INSIDE, OUTSIDE, None, ALL_FOUR) is not None
    assert routes.leg(OUTSIDE, frame_stop(frames[4]), frames[4], ALL_FOUR) is None
    assert routes.closes(OUTSIDE, frame_stop(frames[4]), frames[4], ALL_FOUR) == ALL_FOUR


def test_frames_that_close_nothing_are_left_out() -> None:
    frames = (*room(), wall("X", (1000, 45), (1000, 1500)), wall("Y", (6000, 0), (6000, 3000)))
    routes = build_routes(site(frames), (INSIDE, OUTSIDE))
    everything = frozenset(frame.name for frame in frames)
    assert routes.closes(INSIDE, OUTSIDE, None, everything) == ALL_FOUR


def test_two_rooms_are_closed_by_either_ring_but_only_one_is_named() -> None:
    # A wall across the room: from the south part to outside either ring of four closes, not all five.
    across = wall("M", (45, 2000), (3955, 2000))
    routes = build_routes(site((*room(), across)), (INSIDE, OUTSIDE))
    everything = ALL_FOUR | {"M"}
    closing = routes.closes(INSIDE, OUTSIDE, None, everything)
    assert closing in (ALL_FOUR, frozenset("SEWM"))


def test_asking_what_closes_an_open_way_is_an_error() -> None:
    routes = build_routes(site(room()), (INSIDE, OUTSIDE))
    with pytest.raises(ValueError, match="only 3500 mm"):
        routes.closes(INSIDE, OUTSIDE, None, frozenset("ENW"))


def test_a_stop_under_a_standing_frame_or_in_a_no_go_area_cannot_be_reached() -> None:
    on_wall, in_area = at(1000, 0), at(7000, 7000)
    area = ((6000.0, 6000.0), (8000.0, 6000.0), (8000.0, 8000.0), (6000.0, 8000.0))
    routes = build_routes(site(room(), (area,)), (OUTSIDE, on_wall, in_area))
    assert routes.leg(OUTSIDE, on_wall, None, frozenset("ENW")) is not None
    assert routes.leg(OUTSIDE, on_wall, None, frozenset("S")) is None
    assert routes.closes(OUTSIDE, on_wall, None, ALL_FOUR) == frozenset("S")
    assert routes.leg(OUTSIDE, in_area, None, frozenset()) is None
    assert routes.closes(OUTSIDE, in_area, None, ALL_FOUR) == frozenset()


L_SHAPE: Ring = ((0, 0), (3000, 0), (3000, 1000), (1000, 1000), (1000, 3000), (0, 3000))


@pytest.mark.parametrize("outline", [L_SHAPE, L_SHAPE[::-1]])
def test_round_a_no_go_area_drawn_either_way_about(outline: Ring) -> None:
    start, end = at(500, -500), at(2000, 2000)
    routes = build_routes(site([], (outline,)), (start, end))
    # By the east: (500, -500) to (3000, 0) 2549.51, to (3000, 1000) 1000, to (2000, 2000) 1414.21:
    # 4963.7. By the west: to (0, 0) 707.11, 3000, 1000 to (1000, 3000), 1414.21: 6121.3.
    # Inside the hollow of the L nothing bends: the corner (1000, 1000) is not on the way.
    assert routes.leg(start, end, None, frozenset()) == Leg(
        4964, ((500, -500), (3000, 0), (3000, 1000), (2000, 2000))
    )


def test_the_hollow_of_one_no_go_area_is_as_drawn() -> None:
    start, end = at(1020, 1020), at(1020, 2020)
    routes = build_routes(site([], (L_SHAPE,)), (start, end))
    assert routes.leg(start, end, None, frozenset()) == Leg(1000, (start.point, end.point))


@pytest.mark.parametrize(("gap_mm", "is_closed"), [(60, True), (120, False)])
def test_a_narrow_gap_beside_a_no_go_area_is_closed_while_the_frame_stands(
    gap_mm: float, *, is_closed: bool
) -> None:
    frame = wall("A", (1000 - 3000, 1500), (-gap_mm, 1500))
    start, end = at(-gap_mm / 2, 500), at(-gap_mm / 2, 2500)
    routes = build_routes(site([frame], (L_SHAPE,)), (start, end))
    straight = Leg(2000, (start.point, end.point))
    assert routes.leg(start, end, None, frozenset()) == straight
    assert (routes.leg(start, end, None, frozenset({"A"})) == straight) is not is_closed


def test_a_frame_in_the_hollow_of_a_no_go_area_closes_only_beside_it() -> None:
    # The frame's line y = 1150 runs along the L's lower arm, 105 mm clear of it and 60 mm clear of
    # the upright: only the latter gap is closed, and nothing north of the frame is.
    frame = wall("A", (1060, 1150), (2500, 1150))
    west, east = at(1200, 1196), at(2900, 1400)
    routes = build_routes(site([frame], (L_SHAPE,)), (west, east))
    straight = routes.leg(west, east, None, frozenset({"A"}))
    # sqrt(1700^2 + 204^2) = 1712.2.
    assert straight == Leg(1712, (west.point, east.point))


def test_no_go_areas_close_the_gap_between_them() -> None:
    left: Ring = ((0, 0), (1000, 0), (1000, 1000), (0, 1000))
    right: Ring = ((1080, 0), (2080, 0), (2080, 1000), (1080, 1000))
    start, end = at(1040, -500), at(1040, 1500)
    leg = build_routes(site([], (left, right)), (start, end)).leg(start, end, None, frozenset())
    # Round either far side: 2 x sqrt(1040^2 + 500^2) + 1000 = 2 x 1153.95 + 1000 = 3307.9.
    assert leg is not None
    assert leg.mm == 3308


def test_what_holds_a_leg_back_is_only_what_is_needed() -> None:
    # A is nearer and shorter than B: B alone forces the whole way round.
    frames = (
        wall("A", (1500, 500), (2500, 500)),
        wall("B", (0, 0), (4000, 0)),
        wall("C", (0, 3000), (4000, 3000)),
    )
    start, end = at(2000, -1000), at(2000, 1000)
    routes = build_routes(site(frames), (start, end))
    standing = frozenset("ABC")
    leg = routes.leg(start, end, None, standing)
    assert leg is not None
    # 2 x sqrt(2000^2 + 955^2) + 90 = 4522.6: A lies inside the detour.
    assert leg.mm == 4523
    assert routes.holds_back(start, end, None, standing, 4523) == frozenset("B")
    # Round A alone: sqrt(500^2 + 1455^2) + 90 + sqrt(500^2 + 455^2) = 1538.51 + 90 + 676.04 = 2304.6,
    # so either of the two alone holds the leg back to 2305.
    assert routes.holds_back(start, end, None, standing, 2305) in (frozenset("A"), frozenset("B"))
    assert routes.holds_back(start, end, None, standing, 2000) == frozenset()
    with pytest.raises(ValueError, match="only 4523 mm"):
        routes.holds_back(start, end, None, standing, 4524)


def test_without_a_route_a_leg_is_longer_than_any_length() -> None:
    routes = build_routes(site(room()), (INSIDE, OUTSIDE))
    assert routes.leg(INSIDE, OUTSIDE, None, ALL_FOUR) is None
    assert len(routes.holds_back(INSIDE, OUTSIDE, None, ALL_FOUR, 1_000_000)) == 4


def test_nothing_holds_back_a_walk_between_levels() -> None:
    up = at(2000, 1500, level=2)
    routes = build_routes(site(room()), (OUTSIDE, up))
    assert routes.holds_back(OUTSIDE, up, None, ALL_FOUR, 3500) == frozenset()
    with pytest.raises(ValueError, match="only 3500 mm"):
        routes.closes(OUTSIDE, up, None, ALL_FOUR)
