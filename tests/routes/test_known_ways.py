"""Ways known already against ways looked for anew, while a house goes up in any order."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from packseq.house.derive import derive_house
from packseq.routes.engine import build_routes
from packseq.routes.known import KnownWays
from packseq.routes.values import frame_stop, pack_stop
from packseq.scenario.read import read_scenario

HOUSE = derive_house(read_scenario(Path(__file__).parents[2] / "scenarios" / "three-bedroom"))
ROUTES = build_routes(HOUSE.scenario)


@given(st.permutations(list(HOUSE.scenario.frames)))
@settings(max_examples=8, deadline=None)
def test_a_known_way_is_there_exactly_when_one_is_found_anew(order: list[str]) -> None:
    scenario = HOUSE.scenario
    known = KnownWays(ROUTES)
    (pack, *_) = scenario.packs.values()
    start = pack_stop(pack, pack.places[0])
    frames = [scenario.frames[name] for name in pack.frames]
    told = set[bool]()
    for count in range(len(order) + 1):
        standing = frozenset(order[:count])
        for frame in frames:
            anew = ROUTES.leg(start, frame_stop(frame), frame, standing) is not None
            assert known.is_open(start, frame, standing) == anew
            told.add(anew)
    assert told == {True, False}
