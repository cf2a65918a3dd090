"""How the estimate is told: hours and minutes, and always with what it rests on."""

from __future__ import annotations

import pytest
from garden import flowing, garden_by_hand, shown

from packseq.check.timing import estimate
from packseq.report.daytime import LEFT_OUT, clock, duration, rates_sentence, time_document
from packseq.report.headline import cost_table, headline
from packseq.report.schedule import schedule_of
from packseq.report.standlist import stand_list
from packseq.scenario.rates import TimeRates


@pytest.mark.parametrize(
    ("seconds", "length", "on_the_clock"),
    [
        (0, "0 min", "0:00"),
        (89, "1 min", "0:01"),
        (3570, "1 h 00 min", "1:00"),
        (11_100, "3 h 05 min", "3:05"),
    ],
)
def test_hours_and_minutes(seconds: float, length: str, on_the_clock: str) -> None:
    assert (duration(seconds), clock(seconds)) == (length, on_the_clock)


def test_the_rates_are_told_as_an_estimate() -> None:
    said = rates_sentence(TimeRates(1.25, 0.5, 45, 120, 0))
    assert said == (
        "Times are estimates, no promise: one lift after another, 1.25 m a second empty-handed and 0.5 with "
        "a frame, 45 s to lift a frame off, 2 min to stand and tack it, 0 s to set one aside ([time] in "
        "site.toml)."
    )


def test_the_headline_tells_time_and_assumptions() -> None:
    done = garden_by_hand()
    minutes = round(estimate(done).total_s / 60)
    text = flowing([headline(done, [], stopped=False)])
    assert f"Time: about {minutes} min from the first pick-up until the last frame is tacked." in text
    assert rates_sentence(TimeRates()) in text
    assert LEFT_OUT in text
    assert shown([cost_table(done, [])]).rstrip().endswith(f"{minutes} min")


def test_the_stand_list_tells_when_each_frame_may_stand() -> None:
    done = garden_by_hand()
    day = estimate(done)
    text = shown([stand_list(done.job.house, schedule_of(done.plan), day)])
    rows = [line for line in text.split("\n") if line[:1].isdigit()]
    stands = [move.n for move in done.plan.moves if move.do == "stand"]
    assert [row.split()[-1] for row in rows] == [clock(day.moves[number - 1].ends_s) for number in stands]


def test_the_document_holds_every_move() -> None:
    day = estimate(garden_by_hand())
    document = time_document(day)
    assert len(document["moves"]) == 12
    assert document["moves"][-1]["ends_s"] == document["estimate_s"] == round(day.total_s)
    assert document["rates"]["loaded_m_per_s"] == 0.5
    assert LEFT_OUT in document["assumptions"]
