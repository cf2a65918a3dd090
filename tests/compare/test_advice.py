"""The sentences that the rows come to."""

from __future__ import annotations

from dataclasses import replace

from small_house import hut, pack, pile, plan_of, room

from packseq.check import Replay, replay
from packseq.compare.advice import advice
from packseq.compare.changes import Change, crew_changes, landing_changes, stand_changes
from packseq.compare.outcome import Outcome, restaged
from packseq.errors import Conflict
from packseq.house.model import House
from packseq.plan.model import StageResult
from packseq.scenario.model import StandChoices

HOUSE = room()
CHANGES = {each.value: each for each in stand_changes(HOUSE)}
NOTHING = (
    "No other lap, direction, number of frames held open or landing place saves an extra lift, or 1% of the "
    "walking."
)
LINE = "S1 S2 E1 E2 N1 N2 W1 I1 W2"


def costing(lifts: int, walking_m: float, *, lift_worth_m: float = 0.0) -> Replay:
    house: House = room(stand=StandChoices(lift_worth_m=lift_worth_m))
    done = replay(house, plan_of(house, LINE))
    assert done.kept, done.violations
    cost = replace(done.cost, extra_lifts=lifts, walking_mm=round(walking_m * 1000))
    return replace(done, cost=cost)


def outcome(change: Change | None, done: Replay | None, *, proven: bool = True) -> Outcome:
    name = "As the scenario has it" if change is None else change.name
    if done is None:
        return Outcome(name, change, conflicts=(Conflict(("lap-order",), "no order"),))
    stages: tuple[StageResult, ...] = restaged(done, ())
    if proven:
        stages = tuple(
            stage.model_copy(update={"bound": stage.value, "status": "optimal"}) for stage in stages
        )
    return Outcome(name, change, done, stages)


def test_fewer_lifts_for_more_walking() -> None:
    rows = [outcome(None, costing(5, 100)), outcome(CHANGES["both-ways"], costing(2, 140))]
    assert advice(rows) == ("A both-ways lap saves 3 extra lifts and costs 40 m of walking.",)


def test_the_best_change_comes_first_and_the_dearest_last() -> None:
    rows = [
        outcome(None, costing(5, 100)),
        outcome(CHANGES["both-ways"], costing(4, 90)),
        outcome(CHANGES["free"], costing(4, 80)),
        outcome(CHANGES["clockwise"], costing(5, 101)),
        outcome(CHANGES["0"], costing(7, 95)),
    ]
    assert advice(rows) == (
        "A free lap saves 1 extra lift and 20 m of walking.",
        "Holding no frame open saves 5 m of walking and costs 2 extra lifts.",
    )


def test_walking_alone() -> None:
    rows = [outcome(None, costing(5, 100)), outcome(CHANGES["2"], costing(5, 88))]
    assert advice(rows) == ("Holding at most 2 frames open saves 12 m of walking, with as many extra lifts.",)


def test_less_than_a_hundredth_of_the_walking_is_no_reason_to_change() -> None:
    rows = [outcome(None, costing(5, 200)), outcome(CHANGES["2"], costing(5, 198.1))]
    assert advice(rows) == (NOTHING,)
    enough = [outcome(None, costing(5, 200)), outcome(CHANGES["2"], costing(5, 198))]
    assert advice(enough)[0].startswith("Holding at most 2 frames open saves 2 m of walking")


def test_what_is_not_proven_is_said_to_be() -> None:
    rows = [outcome(None, costing(5, 100)), outcome(CHANGES["free"], costing(4, 100), proven=False)]
    assert advice(rows) == ("A free lap saves 1 extra lift (by the best plans found, not proven).",)
    worse = [outcome(None, costing(5, 100)), outcome(CHANGES["free"], costing(5, 100), proven=False)]
    assert advice(worse) == (NOTHING.replace(".", ", as far as found."),)


def test_a_poor_plan_says_nothing_against_a_choice_but_a_bound_does() -> None:
    own = outcome(None, costing(5, 100))
    poor = outcome(CHANGES["free"], costing(50, 900), proven=False)
    assert advice([own, poor]) == (NOTHING.replace(".", ", as far as found."),)
    # Every plan has at least 7 lifts, two more than 5, whatever was found.
    stages = (poor.stages[0].model_copy(update={"bound": 7}), *poor.stages[1:])
    assert advice([own, replace(poor, stages=stages)])[1:] == ("A free lap costs at least 2 extra lifts.",)


def test_walking_says_nothing_beside_lifts_that_are_not_proven() -> None:
    own = outcome(None, costing(5, 100))
    poor = outcome(CHANGES["free"], costing(6, 900), proven=False)
    lifts, walking, breaks = poor.stages
    stages = (
        lifts.model_copy(update={"bound": 5}),
        walking.model_copy(update={"bound": 800_000}),
        breaks,
    )
    assert len(advice([own, replace(poor, stages=stages)])) == 1


def test_a_choice_with_its_lifts_proven_is_told_by_its_plan() -> None:
    own = outcome(None, costing(5, 100))
    half = outcome(CHANGES["free"], costing(7, 90), proven=False)
    proven = half.stages[0].model_copy(update={"bound": 7, "status": "optimal"})
    assert advice([own, replace(half, stages=(proven, *half.stages[1:]))])[1:] == (
        "A free lap saves 10 m of walking and costs 2 extra lifts (by the best plans found, not proven).",
    )


def test_the_sure_part_of_one_merged_cost() -> None:
    # 5 lifts at 30 m and 100 m are 250 m; the bound of 290 m is 40 m more.
    own = outcome(None, costing(5, 100, lift_worth_m=30))
    poor = outcome(CHANGES["free"], costing(9, 400, lift_worth_m=30), proven=False)
    stages = (poor.stages[0].model_copy(update={"bound": 290_000}), *poor.stages[1:])
    assert advice([own, replace(poor, stages=stages)])[1:] == (
        "A free lap costs at least 40 m, extra lifts and walking together.",
    )


def test_of_crews_it_is_only_told_whether_fewer_people_would_do() -> None:
    fewer, more = crew_changes(HOUSE)
    none = outcome(fewer, None)
    assert advice([outcome(None, costing(5, 100)), none, outcome(more, costing(1, 1))]) == ()
    (said,) = advice([outcome(None, costing(5, 100)), outcome(fewer, costing(5, 100))])
    assert said == "A crew of 3 has enough for every team too, by the masses and the share per person."


def test_lifts_and_walking_as_one_cost() -> None:
    # 30 m a lift: 5 lifts and 100 m are 250; 4 and 140 are 260, so fewer lifts are no gain; 6 and 60, 240.
    rows = [
        outcome(None, costing(5, 100, lift_worth_m=30)),
        outcome(CHANGES["free"], costing(4, 140, lift_worth_m=30)),
        outcome(CHANGES["2"], costing(6, 60, lift_worth_m=30)),
    ]
    assert advice(rows) == (
        "Holding at most 2 frames open saves 40 m of walking and costs 1 extra lift.",
        "A free lap saves 1 extra lift and costs 40 m of walking.",
    )


def test_minutes_are_told_where_they_differ() -> None:
    # W1 aside: 30 s to lift off, 6 m loaded 12 s, 60 s to put down: and W1 later comes from the pile.
    house = hut(spots=(pile(),))
    flat = hut((("S1",), ("W1",), ("E1",), ("N1",)))
    own = replay(house, plan_of(house, "W1>P S1 E1 N1 W1"))
    better = replay(flat, plan_of(flat, "S1 W1 E1 N1"))
    change = next(each for each in stand_changes(house) if each.value == "free")
    (said,) = advice([outcome(None, own), outcome(change, better)])
    # 1520 s (see the tests of the estimate) are 25 min. Without: S1 0 + 30 + 10 + 300 = 340;
    # W1: 5 m back, to (0, 4000) sqrt(6000^2 + 8000^2) = 10 m: 5 + 30 + 20 + 300 = 355; E1: 10 m back,
    # 8 m: 10 + 30 + 16 + 300 = 356; N1: 8 m back, 12.369 m: 8 + 30 + 24.738 + 300 = 362.738.
    # In all 1413.738 s, 24 min. Walked 70.738 m before, 58.369 after: 71 - 58 = 13.
    assert said == "A free lap saves 1 extra lift and 13 m of walking: about 1 min less."


def test_where_the_job_as_it_is_has_no_plan() -> None:
    rows = [outcome(None, None), outcome(CHANGES["free"], costing(4, 90)), outcome(CHANGES["2"], None)]
    assert advice(rows) == (
        "As it is no plan keeps the rules. A free lap there is one: 4 extra lifts and 90 m of walking.",
    )
    assert advice([outcome(None, None), outcome(CHANGES["free"], None)]) == (
        "As it is no plan keeps the rules, and none of the changes has a plan either.",
    )


def test_what_the_landing_saves_against_the_first_place_is_said() -> None:
    # The plan lands pack A at the second of its places.
    two = pack("A", (2000, -3000), [LINE.split()], places=2)
    house = room((two,))
    second = {"A": (3000.0, -3000.0, 0.0)}
    there = plan_of(house, LINE).model_copy(update={"places": second})
    done = replay(house, there)
    own = replace(done, cost=replace(done.cost, extra_lifts=2, walking_mm=90_000))
    first = next(change for change in landing_changes(house, done.job.places) if change.value == "A place 1")
    rows = [outcome(None, own), outcome(first, costing(3, 100))]
    assert advice(rows)[-1] == (
        "Landing pack A as the plan does, not at the first place, saves 1 extra lift and 10 m of walking."
    )
    assert advice([outcome(None, own), outcome(first, None)])[-1] == (
        "Landing pack A as the plan does, not at the first place, is what makes a plan possible."
    )
