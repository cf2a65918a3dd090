"""Ways known already against ways looked for anew, while a house goes up in any order."""

from __future__ import annotations

import random
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from packseq.house.derive import derive_house
from packseq.routes.engine import build_routes
from packseq.routes.known import KnownWays
from packseq.routes.values import Load, Stop, Way, frame_stop, pack_stop
from packseq.scenario.read import read_scenario

HOUSE = derive_house(read_scenario(Path(__file__).parents[2] / "scenarios" / "three-bedroom"))
ROUTES = build_routes(HOUSE.scenario)
HERE, THERE = Stop(1, (0.0, 0.0)), Stop(1, (9.0, 0.0))


@given(st.permutations(list(HOUSE.scenario.frames)))
@settings(max_examples=8, deadline=None)
def test_a_known_way_is_there_exactly_when_one_is_found_anew(order: list[str]) -> None:
    scenario = HOUSE.scenario
    routes = build_routes(scenario)
    (pack, *_) = scenario.packs.values()
    start = pack_stop(pack, pack.places[0])
    frames = [scenario.frames[name] for name in pack.frames]
    told = set[bool]()
    for count in range(len(order) + 1):
        standing = frozenset(order[:count])
        for frame in frames:
            anew = ROUTES.leg(start, frame_stop(frame), frame, standing) is not None
            assert routes.is_open(start, frame_stop(frame), frame, standing) == anew
            told.add(anew)
    assert told == {True, False}


def test_answers_that_are_kept_stay_true_when_frames_are_taken_away_again() -> None:
    scenario, dice = HOUSE.scenario, random.Random(3)
    stops = [stop for stop in ROUTES.stops if stop.frame is None]
    routes = build_routes(scenario)
    told = set[bool]()
    for _ in range(400):
        start, frame = dice.choice(stops), dice.choice(list(scenario.frames.values()))
        away = set(dice.sample(list(scenario.frames), dice.randrange(4)))
        standing = frozenset(name for name in scenario.frames if name not in away)
        anew = ROUTES.leg(start, frame_stop(frame), frame, standing) is not None
        assert routes.is_open(start, frame_stop(frame), frame, standing) == anew
        told.add(anew)
    assert told == {True, False}


def test_a_way_is_looked_for_only_where_no_answer_tells() -> None:
    asked: list[frozenset[str]] = []

    def find(_start: Stop, _end: Stop, _load: Load, standing: frozenset[str]) -> Way | None:
        """One way past A, a longer one past B and C together: shut by A with B and C."""
        asked.append(standing)
        if "A" not in standing:
            return Way(9000, (frozenset("A"),))
        return None if standing >= set("BC") else Way(12_000, (frozenset("BC"),))

    known = KnownWays(find)

    def is_open(standing: str) -> bool:
        return known.is_open(HERE, THERE, None, frozenset(standing))

    assert is_open("")
    assert is_open("BCD")  # not across the first way
    assert asked == [frozenset()]
    assert is_open("AB")
    assert is_open("ACD")
    assert asked == [frozenset(), frozenset("AB")]
    assert not is_open("ABC")
    assert not is_open("ABCD")  # more than shut it off already
    assert asked == [frozenset(), frozenset("AB"), frozenset("ABC")]
    assert not known.is_open(THERE, HERE, None, frozenset("ABC"))  # another way, asked for itself
    assert len(asked) == 4
