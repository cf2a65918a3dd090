"""Random small layouts against a second way of finding routes: every line between corners is tried."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from routes_layouts import at, site, wall
from shapely import Point, Polygon
from walk_oracle import TriedLines, Whereabouts, parts

from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop
from packseq.scenario.model import Frame, Opening

CELL_MM = 1500
ROOMY_MM = 110.0
"""Free stops keep this far from every wall: pockets beside a closed gap are cut off in slightly
different shapes by the engine and the oracle."""


@dataclass(frozen=True)
class Layout:
    frames: tuple[Frame, ...]
    standing: frozenset[str]
    carried: Frame | None
    start: Stop
    end: Stop

    def routes(self) -> Routes:
        return build_routes(site(self.frames), (self.start, self.end))


openings = st.sampled_from(
    [
        (),
        (),
        (Opening("door", 350, 700, 0, 2040),),  # empty-handed only
        (Opening("opening", 350, 700, 0, 2450),),  # everybody
        (Opening("window", 350, 700, 900, 2040),),  # nobody
    ]
)
trims_mm = st.sampled_from([45, 45, 45, 60, 90, 200])


def ring(column: int, row: int) -> set[tuple[int, int, bool]]:
    """Return the four walls round a cell of the grid: column, row, upright."""
    return {(column, row, False), (column, row + 1, False), (column, row, True), (column + 1, row, True)}


@st.composite
def grid_walls(draw: st.DrawFn, column: int, row: int) -> list[Frame]:
    """Walls between the nodes of a grid, cut back at their ends to touch, nearly touch or stand clear.

    Four of them go round one cell; more are thrown in.
    """
    more = st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2), st.booleans()), max_size=6)
    frames = []
    for number, (column_of, row_of, upright) in enumerate(sorted({*ring(column, row), *draw(more)})):
        near, far = draw(trims_mm), draw(trims_mm)
        x, y = column_of * CELL_MM, row_of * CELL_MM
        ends = ((x, y + near), (x, y + CELL_MM - far)) if upright else ((x + near, y), (x + CELL_MM - far, y))
        frames.append(wall(f"G{number}", *ends, *draw(openings)))
    return frames


@st.composite
def layouts(draw: st.DrawFn, *, slanted: int = 2, from_frame: bool = False) -> Layout:
    """A walk into one cell of a grid of walls, past a few slanted ones.

    No gap lies so near 100 mm that the two ways of closing it could differ.
    """
    column, row = draw(st.integers(0, 2)), draw(st.integers(0, 2))
    frames = draw(grid_walls(column, row))
    places = st.integers(-4, 30).map(lambda step: step * 130.0)
    for number in range(draw(st.integers(0, slanted))):
        ends = (draw(st.tuples(places, places)), draw(st.tuples(places, places)))
        assume(math.dist(*ends) > 1100)
        frames.append(wall(f"S{number}", *ends, *draw(openings)))
    standing = frozenset(frame.name for frame in frames if draw(st.integers(0, 9)))
    anywhere = st.integers(-3, 25).map(lambda step: step * 200.0 + 20)
    inside = st.integers(1, 8).map(lambda step: step * 150.0 + 60)
    start = frame_stop(draw(st.sampled_from(frames))) if from_frame else at(draw(anywhere), draw(anywhere))
    carried = draw(st.sampled_from([None, wall("LOAD", (20000, 0), (22000, 0))]))
    if carried is not None:
        frames.append(carried)
    end = at(column * CELL_MM + draw(inside), row * CELL_MM + draw(inside))
    assume(start != end)
    for stop in (start, end):
        others = [Polygon(frame.footprint) for frame in frames if frame.name != stop.frame]
        assume(all(shape.distance(Point(stop.point)) >= ROOMY_MM for shape in others))
    for one, other in combinations(frames, 2):
        for part in parts(one, carried):
            assume(all(not 98 < part.distance(second) < 102 for second in parts(other, carried)))
    return Layout(tuple(frames), standing, carried, start, end)


def shortest_mm(layout: Layout) -> float | None:
    """Return the shortest way in mm by trying every line between corners, or None."""
    start, end = (Whereabouts(stop.point, stop.frame) for stop in (layout.start, layout.end))
    return TriedLines(layout.frames).shortest_mm(start, end, layout.carried, layout.standing)


def check_length(layout: Layout) -> None:
    leg = layout.routes().leg(layout.start, layout.end, layout.carried, layout.standing)
    expected_mm = shortest_mm(layout)
    assert (leg is None) == (expected_mm is None)
    if leg is not None and expected_mm is not None:
        assert abs(leg.mm - expected_mm) <= 2


@given(layouts())
@settings(max_examples=60, deadline=None)
def test_as_long_as_by_trying_every_line(layout: Layout) -> None:
    check_length(layout)


@given(layouts(slanted=1, from_frame=True))
@settings(max_examples=40, deadline=None)
def test_leaving_a_frame_as_long_as_by_trying_every_line(layout: Layout) -> None:
    check_length(layout)


@pytest.mark.slow
@given(layouts())
@settings(max_examples=1500, deadline=None)
def test_as_long_as_by_trying_every_line_on_many_layouts(layout: Layout) -> None:
    check_length(layout)


@pytest.mark.slow
@given(layouts(slanted=1, from_frame=True))
@settings(max_examples=1500, deadline=None)
def test_leaving_a_frame_as_long_as_by_trying_every_line_on_many_layouts(layout: Layout) -> None:
    check_length(layout)


@given(layouts())
@settings(max_examples=60, deadline=None)
def test_there_is_a_way_exactly_within_one_piece_of_free_ground(layout: Layout) -> None:
    standing = [frame for frame in layout.frames if frame.name in layout.standing]
    solid = shapely.union_all([part for frame in standing for part in parts(frame, layout.carried)])
    free = shapely.box(-9000, -9000, 30000, 30000).difference(solid.buffer(50, quad_segs=32))
    holding = [
        [number for number, piece in enumerate(shapely.get_parts(free)) if piece.contains(Point(stop.point))]
        for stop in (layout.start, layout.end)
    ]
    leg = layout.routes().leg(layout.start, layout.end, layout.carried, layout.standing)
    assert (leg is not None) == (holding[0] == holding[1])


@given(layouts(), st.data())
@settings(max_examples=60, deadline=None)
def test_more_frames_standing_never_shorten_a_leg(layout: Layout, data: st.DataObject) -> None:
    routes = layout.routes()
    fewer = frozenset(name for name in sorted(layout.standing) if data.draw(st.booleans()))
    for start in routes.stops:
        with_fewer = routes.legs_from(start, layout.carried, fewer)
        with_all = routes.legs_from(start, layout.carried, layout.standing)
        assert with_all.keys() <= with_fewer.keys()
        assert all(with_fewer[stop] <= length for stop, length in with_all.items())


@given(layouts())
@settings(max_examples=60, deadline=None)
def test_what_closes_or_holds_back_does_and_none_can_be_spared(layout: Layout) -> None:
    routes, way = layout.routes(), (layout.start, layout.end, layout.carried)
    leg = routes.leg(*way, layout.standing)
    if leg is None:
        least = routes.closes(*way, layout.standing)
        assert routes.leg(*way, least) is None
        assert all(routes.leg(*way, least - {frame}) is not None for frame in least)
    else:
        least = routes.holds_back(*way, layout.standing, leg.mm)
        alone = [routes.leg(*way, kept) for kept in (least, *(least - {frame} for frame in sorted(least)))]
        assert alone[0] is not None
        assert alone[0].mm >= leg.mm
        assert all(spared is not None and spared.mm < leg.mm for spared in alone[1:])
    assert least <= layout.standing
