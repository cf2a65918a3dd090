"""What the report says of where packs land."""

from __future__ import annotations

from dataclasses import replace

from small_house import HUT_ROUND, hut, pack, plan_of

from packseq.check import Replay, replay
from packseq.house.model import House
from packseq.report.landed import landed
from packseq.scenario.model import Place

FIRST, SECOND = Place((3000, -10_000), 0.0), Place((3000, -4000), 0.0)


def two_places(*places: Place) -> House:
    layers = [[name] for name in HUT_ROUND]
    return hut(packs=(replace(pack("A", (0, 0), layers), places=places),))


def landing_at(house: House, place: Place) -> Replay:
    plan = plan_of(house, "S1 E1 N1 W1")
    return replay(house, plan.model_copy(update={"places": {"A": (*place.at, place.bearing_deg)}}))


def test_the_same_moves_from_the_first_place_are_told() -> None:
    # Straight, to S1 (3000, 0), E1 (6000, 4000), N1 (3000, 8000) and back, then to W1 (0, 4000).
    # From (3000, -4000): 2 x (4000 + 8544 + 12000) + 8544 = 57632.
    # From (3000, -10000): 2 x (10000 + 14318 + 18000) + 14318 = 98954.
    (said,) = landed(landing_at(two_places(FIRST, SECOND), SECOND))
    assert said == (
        "Landing: pack A at place 2 (x 3000, y -4000). From the first place of each pack the same moves "
        "would walk 99 m, 41 m more; packseq compare plans each place for itself."
    )


def test_first_places_are_said_to_be() -> None:
    (said,) = landed(landing_at(two_places(FIRST, SECOND), FIRST))
    assert said == "Landing: every pack at the first of its places."


def test_a_first_place_from_which_the_moves_break_a_rule_is_told_with_the_rule() -> None:
    # Across S1, with the whole pack under it.
    house = two_places(Place((3000, 0), 0.0), SECOND)
    (said,) = landed(landing_at(house, SECOND))
    assert said.endswith("From the first place of each pack the same moves would break ground-clear.")


def test_packs_without_a_choice_need_no_word() -> None:
    assert list(landed(landing_at(two_places(SECOND), SECOND))) == []


def test_landings_that_were_not_searched_are_told() -> None:
    many = [Place((3000, -4000 - 100 * step), 0.0) for step in range(13)]
    *_, said = landed(landing_at(two_places(*many), many[0]))
    assert said.startswith("The packs could land in many ways. The 12 from which")
