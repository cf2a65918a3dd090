"""Legs of many states at a time against the routes asked once for each state."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from opened_states import yard_of
from small_house import hut
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.standup.states.legtable import NO_WAY


@given(walled_houses(), st.data())
@settings(max_examples=40, deadline=None)
def test_every_leg_is_as_long_as_the_routes_say(house: House, data: st.DataObject) -> None:
    yard = yard_of(house)
    legs, names = yard.legs, yard.frames.names
    standing = data.draw(st.lists(st.frozensets(st.sampled_from(names)), min_size=1, max_size=12))
    rows = np.stack([yard.frames.mask(each) for each in standing])
    stops = (*yard.stops, *yard.lines)
    for _ in range(6):
        start, end = data.draw(st.sampled_from(stops)), data.draw(st.sampled_from(stops))
        carried = house.scenario.frames[data.draw(st.sampled_from(names))]
        for frame in (None, carried):
            expected = [legs.routes.leg(start, end, frame, each) for each in standing]
            lengths = legs.lengths_mm(start, end, frame, rows)
            assert lengths.tolist() == [NO_WAY if leg is None else leg.mm for leg in expected]
        ways = legs.open.has_way(start, end, carried, rows)
        assert ways.tolist() == [leg is not None for leg in expected]


@given(walled_houses(), st.data())
@settings(max_examples=40, deadline=None)
def test_a_frame_has_a_way_from_any_of_several_places_as_the_routes_say(
    house: House, data: st.DataObject
) -> None:
    yard = yard_of(house)
    legs, names = yard.legs, yard.frames.names
    standing = data.draw(st.lists(st.frozensets(st.sampled_from(names)), min_size=1, max_size=12))
    rows = np.stack([yard.frames.mask(each) for each in standing])
    for _ in range(4):
        number = data.draw(st.sampled_from(range(len(names))))
        frame, line = yard.frame(number), yard.lines[number]
        starts = data.draw(st.lists(st.sampled_from(yard.stops), min_size=1, max_size=3, unique=True))
        ways = legs.open.has_way_from_any(starts, line, frame, rows)
        shut = [all(legs.routes.leg(each, line, frame, up) is None for each in starts) for up in standing]
        assert ways.tolist() == [not each for each in shut]
        for row, up in zip(rows, standing, strict=True):
            closer = legs.open.shut_by(starts[0], line, frame, row)
            assert (closer is None) == (legs.routes.leg(starts[0], line, frame, up) is not None)
            if closer is not None:
                by = yard.frames.names_in(closer)
                assert by <= up
                assert legs.routes.leg(starts[0], line, frame, by) is None


def test_no_states_have_no_legs() -> None:
    yard = yard_of(hut())
    none = np.zeros((0, yard.frames.words), dtype=np.uint64)
    assert len(yard.legs.lengths_mm(yard.stops[0], yard.lines[0], None, none)) == 0
