"""The estimate of the day on the hut, worked by hand, and what it does where a plan goes wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest
from small_house import hut, pile, plan_of

from packseq.check import Replay, replay
from packseq.check.timing import estimate
from packseq.scenario.rates import TimeRates


def replayed(rates: TimeRates | None = None) -> Replay:
    """Return W1 set aside on the pile, then S1, E1, N1 and W1 stood.

    Pack A lies at (6000, -4000), the pile P at (0, -4000); every way is a straight line:
    W1 aside: A to P 6000.
    S1: P to A 6000; A to (3000, 0) 5000.
    E1: back 5000; A to (6000, 4000) 8000.
    N1: back 8000; A to (3000, 8000) sqrt(3000^2 + 12000^2) = 12369.
    W1: (3000, 8000) to P 12369; P to (0, 4000) 8000.
    """
    house = hut(spots=(pile(),))
    if rates is not None:
        house = replace(house, scenario=replace(house.scenario, rates=rates))
    done = replay(house, plan_of(house, "W1>P S1 E1 N1 W1"))
    assert done.kept, done.violations
    return done


def test_each_move_and_the_day_by_hand() -> None:
    day = estimate(replayed())
    # Empty at 1 m/s, loaded at 0.5, 30 s to lift off, 300 to stand, 60 to set aside:
    # 0 + 30 + 12 + 60 = 102; 6 + 30 + 10 + 300 = 346; 5 + 30 + 16 + 300 = 351;
    # 8 + 30 + 24.738 + 300 = 362.738; 12.369 + 30 + 16 + 300 = 358.369. In all 1520.107 s.
    assert [move.seconds for move in day.moves] == pytest.approx([102, 346, 351, 362.738, 358.369])
    assert [move.ends_s for move in day.moves] == pytest.approx([102, 448, 799, 1161.738, 1520.107])
    assert day.moves[4].begins_s == pytest.approx(1161.738)
    assert day.total_s == pytest.approx(1520.107)


def test_every_rate_counts_where_it_belongs() -> None:
    day = estimate(replayed(TimeRates(2.0, 1.0, 10.0, 100.0, 20.0)))
    # The fourth: 8 m empty at 2 m/s = 4, 10 to lift off, 12.369 m at 1 m/s, 100 to stand.
    fourth = day.moves[3]
    assert (fourth.empty_s, fourth.lift_off_s, fourth.put_down_s) == (4, 10, 100)
    assert fourth.loaded_s == pytest.approx(12.369)
    # The first: nothing walked to it, 10, 6 m at 1 m/s, 20 to set aside.
    assert day.moves[0].seconds == 36
    assert day.rates == TimeRates(2.0, 1.0, 10.0, 100.0, 20.0)


def test_a_move_that_cannot_be_carried_out_takes_no_time() -> None:
    house = hut(spots=(pile(),))
    plan = plan_of(house, "W1>P S1 E1 N1 W1")
    unknown = plan.moves[2].model_copy(update={"frame": "X9"})
    wrong = plan.model_copy(update={"moves": (*plan.moves[:2], unknown, *plan.moves[3:])})
    day = estimate(replay(house, wrong))
    assert day.moves[2].seconds == 0
    assert day.moves[2].ends_s == day.moves[1].ends_s == 448
    # From S1 to A is 5000 now, not 8000.
    assert day.moves[3].empty_s == 5


def test_a_plan_without_moves_takes_no_time() -> None:
    house = hut()
    assert estimate(replay(house, plan_of(house, ""))).total_s == 0
