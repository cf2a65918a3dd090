"""Fixings along a bottom plate: counts of both codes, and places by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from packseq.sitework.laps.anchors import RULES, StrappedStud, anchor_count, anchor_places

NZ, US, SHOT = RULES["nz-drilled"], RULES["us-bolts"], RULES["nz-shot"]
FOOT_MM = 304.8


@pytest.mark.parametrize(
    ("length", "count"), [(600, 2), (1200, 2), (1201, 3), (2400, 4), (3600, 5), (4800, 6), (6000, 8)]
)
def test_counts_by_the_new_zealand_rule(length: float, count: int) -> None:
    # NZS 3604 7.5.12 as quoted by BRANZ, May 2010: ends within 150, 900 apart. 1200: (1200 - 300) / 900 =
    # 1, so 2; 1201: a little more, so 3; 6000: 5700 / 900 = 6.33, so 7 steps and 8.
    assert anchor_count(length, NZ) == count
    places = anchor_places(length, NZ)
    assert places is not None
    assert len(places) == count


@pytest.mark.parametrize(("feet", "count"), [(8, 2), (12, 3), (16, 4), (20, 4), (24, 5)])
def test_counts_by_the_american_rule(feet: int, count: int) -> None:
    # IRC R403.1.6: ends within 12 in, 6 ft apart. 8 ft: (96 - 24) / 72 = 1, so 2; 20 ft: 216 / 72 = 3, so 4.
    # The rule is kept in whole mm (305 and 1829), which is as long or longer than the inches.
    assert anchor_count(feet * FOOT_MM, US) == count
    places = anchor_places(feet * FOOT_MM, US)
    assert places is not None
    assert len(places) == count


def test_places_are_even_between_the_ends() -> None:
    # 2400: 150 to 2250 in three steps of 700.
    assert anchor_places(2400, NZ) == pytest.approx((150, 850, 1550, 2250))


def test_a_short_length_has_one_in_the_middle_where_the_rule_allows_it() -> None:
    # Within 150 of both ends of 290: 145.
    assert anchor_places(290, NZ) == (145,)
    # The American rule has two for each length, neither nearer than 89 to an end.
    assert anchor_places(290, US) == pytest.approx((89, 201))
    assert anchor_places(178, US) is None


def test_hold_downs_count_as_fixings_and_are_kept_clear() -> None:
    # At 100 and 2300 both ends are held; 2200 between them takes three steps of 733.
    assert anchor_places(2400, NZ, hold_downs=(100, 2300)) == pytest.approx((833.3, 1566.7), abs=0.1)
    # Nothing fits beside a hold-down on a length of 150.
    assert anchor_places(150, NZ, hold_downs=(100,)) == ()


def test_a_strapped_stud_has_an_anchor_within_150() -> None:
    # BRANZ Build 131. A window from 1200 to 2700 of 4110: its studs' own anchors at 1065 and 2835; the
    # ends at 150 and 3960; 915 is one step too long, so 607.5 goes in, and so do 1950 and 3397.5.
    studs = (StrappedStud(1200, opening_beyond=True), StrappedStud(2700, opening_beyond=False))
    places = anchor_places(4110, NZ, strapped=studs)
    assert places == pytest.approx((150, 607.5, 1065, 1950, 2835, 3397.5, 3960))


@pytest.mark.parametrize(
    ("stud", "own", "held"),
    [
        # The hold-down at 100 is 140 off and counts as its own.
        (240.0, None, True),
        # 200 off; an anchor would stand at 150 to 165, nearer than 75 to the hold-down: none, and it is told.
        (300.0, None, False),
        # 315 - 135 = 180 is 80 from the hold-down.
        (315.0, 180.0, True),
    ],
)
def test_a_stud_beside_a_hold_down_has_it_or_its_own_or_none(
    stud: float, own: float | None, held: bool
) -> None:
    strapped = StrappedStud(stud, opening_beyond=True)
    places = anchor_places(2400, NZ, hold_downs=(100, 2300), strapped=[strapped])
    assert places is not None
    assert (own in places) == (own is not None)
    assert strapped.held_by([*places, 100]) == held


@given(
    length=st.floats(200, 12_000),
    rule=st.sampled_from([NZ, US, SHOT]),
    openings=st.lists(st.tuples(st.floats(0.1, 0.8), st.booleans()), max_size=4),
    held=st.none() | st.floats(60, 400),
)
@example(length=2404.0, rule=SHOT, openings=[(0.125, True)], held=100.0)
def test_whatever_the_plate_the_rule_is_kept(
    length: float, rule: object, openings: list[tuple[float, bool]], held: float | None
) -> None:
    assert rule in (NZ, US, SHOT)
    known = next(each for each in (NZ, US, SHOT) if each is rule)
    hold_downs = () if held is None or length < 4 * held else (held, length - held)
    studs = [StrappedStud(part * length, opening_beyond=beyond) for part, beyond in openings]
    places = anchor_places(length, known, hold_downs=hold_downs, strapped=studs)
    assert places is not None
    fixed = sorted((*places, *hold_downs))
    assert fixed[0] <= known.end_most_mm + 1e-6
    assert length - fixed[-1] <= known.end_most_mm + 1e-6
    assert all(after - before <= known.spacing_mm + 1e-6 for before, after in pairwise(fixed))
    assert all(abs(place - each) >= 75 - 1e-6 for place in places for each in hold_downs)
    # A stud has a fixing within 150 mm, or a hold-down or an end of the plate leaves no room for one.
    for stud in studs:
        low, high = stud.within_mm
        crowded = any(low - 75 < each < high + 75 for each in hold_downs)
        least = known.end_least_mm
        at_end = stud.anchor_mm < least or stud.anchor_mm > length - least
        assert stud.held_by(fixed) or crowded or at_end
