"""Each rule about what may be stood next: a plan that just keeps it and one that just breaks it."""

from __future__ import annotations

from small_house import broken, pile, plan_of, room, site_wall, two_floors

from packseq.scenario.model import StandChoices

ANTICLOCKWISE = "S1 S2 E1 E2 N1 N2 W1 W2 I1"
CLOCKWISE = "S2 S1 W2 W1 N2 N1 E2 E1 I1"


def test_a_plain_lap_keeps_every_rule_either_way_round() -> None:
    assert broken(room(), ANTICLOCKWISE) == set()
    assert broken(room(), CLOCKWISE) == set()


def test_reference_first_wants_the_whole_wall_before_anything_else() -> None:
    free = room(stand=StandChoices(lap="free"))
    assert broken(free, "S2 S1 E1 E2 N1 N2 W1 W2 I1") == set()
    # E1 touches S2, so nothing but the wall itself is in the way.
    assert broken(free, "S2 E1 S1 E2 N1 N2 W1 W2 I1") == {("reference-first", 2)}


def test_reference_first_wants_the_wall_in_the_direction_asked_under_every_lap() -> None:
    for lap in ("one-way", "both-ways", "free"):
        house = room(stand=StandChoices(lap=lap, direction="clockwise"))
        assert broken(house, CLOCKWISE) == set()
        assert ("reference-first", 1) in broken(house, "S1 S2 W2 W1 N2 N1 E2 E1 I1")


def test_lap_order_one_way_goes_on_round() -> None:
    # W2 touches S1, so standing it before W1 breaks the lap and nothing else.
    assert broken(room(), "S1 S2 E1 E2 N1 N2 W2 W1 I1") == {("lap-order", 7)}


def test_lap_order_one_way_does_not_turn_back() -> None:
    order = "S1 S2 W2 W1 N2 N1 E2 E1 I1"
    # The wall goes anticlockwise, the rest clockwise: every frame after it but the last is early.
    told = room(stand=StandChoices(direction="anticlockwise"))
    assert broken(told, order) == {("lap-order", number) for number in (3, 4, 5, 6, 7)}
    # Left to itself it is a clockwise lap whose wall begins at the wrong end.
    assert broken(room(), order) == {("reference-first", 1)}


def test_lap_order_both_ways_grows_at_either_end_but_never_elsewhere() -> None:
    choices = StandChoices(lap="both-ways", internals_any_time=True)
    assert broken(room(stand=choices), "S1 S2 I1 E1 W2 E2 W1 N2 N1") == set()
    # N1 touches I1, but neither E2 nor N2 stands yet.
    assert broken(room(stand=choices), "S1 S2 I1 N1 E1 W2 E2 W1 N2") == {("lap-order", 4)}


def test_lap_order_free_takes_any_joined_order() -> None:
    choices = StandChoices(lap="free", internals_any_time=True)
    assert broken(room(stand=choices), "S1 S2 I1 N1 E1 W2 E2 W1 N2") == set()


def test_joined_wants_a_standing_frame_to_touch() -> None:
    free = room(stand=StandChoices(lap="free"))
    assert broken(free, "S1 S2 E1 E2 N1 N2 W1 W2 I1") == set()
    assert broken(free, "S1 S2 N1 E2 E1 N2 W1 W2 I1") == {("joined", 3)}


def test_joined_counts_a_gap_only_when_it_is_declared() -> None:
    """A declared gap is in `touches`; an undeclared one is not, and the lap cannot pass it."""
    assert broken(room(), ANTICLOCKWISE) == set()
    assert broken(room(untouching=frozenset({"E1", "E2"})), ANTICLOCKWISE) == {("joined", 4)}


def test_joined_exempts_the_first_frame_of_every_level() -> None:
    assert broken(two_floors(), "S1 E1 N1 W1 UW1 US1 UE1 UN1") == {
        ("reference-first", 5),
        # going anticlockwise UW1 comes last of the lap
        ("lap-order", 5),
    }


def test_perimeter_first_lets_so_many_of_the_last_be_held_open() -> None:
    one = room(stand=StandChoices(hold_open=1))
    assert broken(one, "S1 S2 E1 E2 N1 N2 W1 I1 W2") == set()
    assert broken(one, "S1 S2 E1 E2 N1 N2 I1 W1 W2") == {("perimeter-first", 7)}
    none = room(stand=StandChoices(hold_open=0))
    assert broken(none, "S1 S2 E1 E2 N1 N2 W1 I1 W2") == {("perimeter-first", 8)}


def test_perimeter_first_one_way_holds_open_only_the_last_of_the_lap() -> None:
    found = broken(room(), "S1 S2 E1 E2 N1 N2 W2 I1 W1")
    assert found == {("lap-order", 7), ("perimeter-first", 8)}


def test_perimeter_first_both_ways_and_free_hold_open_what_is_left() -> None:
    for lap in ("both-ways", "free"):
        house = room(stand=StandChoices(lap=lap))
        assert broken(house, "S1 S2 E1 W2 W1 N2 N1 I1 E2") == set()


def test_perimeter_first_never_holds_open_the_reference_wall() -> None:
    free = room(stand=StandChoices(lap="free", direction="clockwise"))
    found = broken(free, "S2 E1 E2 N1 N2 W1 W2 I1 S1")
    assert {number for rule, number in found if rule == "perimeter-first"} == {8}


def test_perimeter_first_is_off_when_internals_stand_any_time() -> None:
    house = room(stand=StandChoices(internals_any_time=True))
    assert broken(house, "S1 S2 I1 E1 E2 N1 N2 W1 W2") == set()


def test_level_order_wants_the_lower_level_whole() -> None:
    clockwise = "S1 W1 N1 E1 UW1>Q US1 UW1 UN1 UE1"
    early_stand = "UW1>Q S1 W1 N1 US1 E1 UW1 UN1 UE1"
    house = two_floors(spots=(pile("Q", (-5000, 4000), level=2),))
    assert broken(house, clockwise) == set()
    # Set aside while nothing stands below it, then stood with E1 missing below.
    assert broken(house, early_stand) == {("level-order", 1), ("level-order", 5)}


def test_a_site_wall_is_a_perimeter_that_does_not_close() -> None:
    # It counts as a south wall: anticlockwise runs toward larger x.
    assert plan_of(site_wall(), "A1 A2 A3").direction == "anticlockwise"
    assert plan_of(site_wall(), "A3 A2 A1").direction == "clockwise"
    both = site_wall(stand=StandChoices(lap="both-ways"))
    for order in ("A1 A2 A3", "A3 A2 A1"):
        assert broken(site_wall(), order) == set()
        assert broken(both, order) == set()
    assert broken(both, "A1 A3 A2") == {("reference-first", 2), ("lap-order", 2), ("joined", 2)}
    assert broken(site_wall(), "A2 A1 A3") == {("reference-first", 1)}
