"""One limit for all rows, no search where none is needed, and plans passed from row to row."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import pytest
from small_house import hut, pack, pile, plan_of

from packseq.baseline import by_nearest
from packseq.check import replay
from packseq.compare import trying
from packseq.compare.outcome import Outcome, restaged, worth
from packseq.compare.trying import Comparison, compare_choices
from packseq.errors import Conflict, LimitError, NoPlanError
from packseq.house.model import House
from packseq.plan.model import Plan, StageResult, Status
from packseq.scenario.model import StandChoices

# Anticlockwise S1 E1 N1 W1 sets W1 aside; clockwise S1 W1 N1 E1 stands from the top but for S1.
LAYERS = (("W1",), ("S1",), ("E1",), ("N1",))


def stages(house: House, plan: Plan, bounds: Mapping[str, int], status: Status) -> Plan:
    cost = replay(house, plan).cost
    values = {"extra lifts": cost.extra_lifts, "walking_mm": cost.walking_mm, "breaks": cost.breaks}
    made = tuple(
        StageResult(name=name, value=value, bound=bounds.get(name, value), status=status)
        for name, value in values.items()
    )
    return plan.model_copy(update={"stages": made, "status": status})


def nearest(house: House) -> Plan:
    plan = by_nearest(house).plan
    assert plan is not None
    return stages(house, plan, {}, "optimal")


def unproven(house: House, line: str) -> Plan:
    bounds = {"extra lifts": 0, "walking_mm": 0, "breaks": 0}
    return stages(house, plan_of(house, line), bounds, "best found")


@dataclass
class Searches:
    """A search that keeps what it was asked for; `answer` takes the house."""

    answer: Callable[[House], Plan]
    asked: list[tuple[StandChoices, float]] = field(default_factory=list)
    told: list[tuple[str, int, int]] = field(default_factory=list)

    def __call__(self, house: House, limit_s: float) -> Plan:
        self.asked.append((house.scenario.stand, limit_s))
        return self.answer(house)

    def hear(self, name: str, number: int, count: int) -> None:
        self.told.append((name, number, count))


def tried(house: House, searches: Searches, *, stop_after: int | None = None) -> Comparison:
    return compare_choices(
        house,
        searches,
        limit_s=100,
        stopped=lambda: stop_after is not None and len(searches.asked) >= stop_after,
        listener=searches.hear,
    )


def row(comparison: Comparison, name: str) -> Outcome:
    (found,) = [each for each in comparison.rows if each.name.startswith(name)]
    return found


def test_only_what_the_own_plan_does_not_answer_is_searched() -> None:
    searches = Searches(nearest)
    comparison = tried(hut(LAYERS, spots=(pile(),)), searches)
    assert [each.name for each in comparison.rows] == [
        "As the scenario has it",
        "Both-ways lap",
        "Free lap",
        "Clockwise",
        "Anticlockwise",
        "Crew of 3",
        "Crew of 5",
    ]
    # The own plan goes anticlockwise with teams of 3, so anticlockwise and both crews are answered.
    assert [(stand.lap, stand.direction) for stand, _ in searches.asked] == [
        ("one-way", "auto"),
        ("both-ways", "auto"),
        ("free", "auto"),
        ("one-way", "clockwise"),
    ]
    assert searches.told == [
        ("As the scenario has it", 1, 1),
        ("Both-ways lap", 2, 4),
        ("Free lap", 3, 4),
        ("Clockwise", 4, 4),
    ]
    for name in ("Anticlockwise", "Crew of 3", "Crew of 5"):
        answered = row(comparison, name)
        assert (answered.done is not None, answered.proven, answered.found_for) == (
            True,
            True,
            "As the scenario has it",
        )


def test_the_searches_share_one_limit() -> None:
    searches = Searches(nearest)
    tried(hut(LAYERS, spots=(pile(),)), searches)
    # A quarter for the first, the rest for three: 25, then 75 / 3 = 25 each.
    assert [limit_s for _, limit_s in searches.asked] == [25, 25, 25, 25]
    fewer = Searches(nearest)
    tried(hut(LAYERS, spots=(pile(),), stand=StandChoices(direction="anticlockwise")), fewer)
    # Both-ways, free and clockwise again; the crews are answered.
    assert sum(limit_s for _, limit_s in fewer.asked) == 100


def test_stopped_after_the_first_the_rest_shows_what_there_is() -> None:
    searches = Searches(nearest)
    comparison = tried(hut(LAYERS, spots=(pile(),)), searches, stop_after=1)
    assert len(searches.asked) == 1
    # A one-way plan keeps the looser laps too, but nothing is proven there.
    for name in ("Both-ways lap", "Free lap"):
        taken = row(comparison, name)
        assert taken.done is not None
        assert (taken.done.cost.extra_lifts, taken.proven, taken.found_for) == (
            1,
            False,
            "As the scenario has it",
        )
    turned = row(comparison, "Clockwise")
    assert (turned.ending, turned.reason) == ("not searched", "stopped before its turn")


def test_an_unproven_row_is_bettered_and_keeps_its_own_bound() -> None:
    # E1 set aside for nothing as well: two extra lifts where the others find one.
    poor = "W1>P S1 E1>P E1 N1 W1"

    def answer(house: House) -> Plan:
        return unproven(house, poor) if house.scenario.stand.lap == "free" else nearest(house)

    free = row(tried(hut(LAYERS, spots=(pile(),)), Searches(answer)), "Free lap")
    assert free.done is not None
    assert free.done.cost.extra_lifts == 1
    assert free.found_for in {"As the scenario has it", "Both-ways lap"}
    assert [(stage.bound, stage.status) for stage in free.stages] == [(0, "best found")] * 3


def test_rules_in_conflict_and_a_limit_without_a_plan_are_rows_too() -> None:
    conflict = Conflict(("lap-order", "spot-room"), "no room")

    def answer(house: House) -> Plan:
        if house.scenario.stand.direction == "clockwise":
            raise NoPlanError([conflict])
        if house.scenario.stand.lap == "free":
            raise LimitError("the limit was reached before any plan was found")
        return nearest(house)

    comparison = tried(hut(LAYERS, spots=(pile(),)), Searches(answer))
    turned = row(comparison, "Clockwise")
    assert (turned.ending, turned.conflicts, turned.done) == ("no plan", (conflict,), None)
    free = row(comparison, "Free lap")
    # The one-way plan is a free one too, so the row is not left empty.
    assert (free.ending, free.proven, free.reason) == ("plan", False, None)


def test_without_an_own_plan_the_changes_are_searched_all_the_same() -> None:
    def answer(house: House) -> Plan:
        if house.scenario.stand.lap != "free":
            raise NoPlanError([Conflict(("lap-order",), "no order")])
        return nearest(house)

    comparison = tried(hut(LAYERS, spots=(pile(),)), Searches(answer))
    assert comparison.own.ending == "no plan"
    assert row(comparison, "Free lap").ending == "plan"


def test_a_search_that_breaks_the_rules_is_a_bug() -> None:
    with pytest.raises(AssertionError, match="the search and the check disagree"):
        tried(hut(LAYERS, spots=(pile(),)), Searches(lambda house: unproven(house, "W1 S1 E1 N1")))


def test_the_own_row_takes_the_better_landing_place(monkeypatch: pytest.MonkeyPatch) -> None:
    # All four frames in one layer, S1 E1 N1 W1; place 2 lies 1 m nearer to the hut than place 1.
    # The stand-in for the search takes the first place of each pack, whichever is better.
    packs = (pack("A", (-6000, 4000), [["S1", "E1", "N1", "W1"]], places=2),)

    def answer(house: House) -> Plan:
        plan = by_nearest(house).plan
        assert plan is not None
        return stages(house, plan, {"walking_mm": 0, "breaks": 0}, "best found")

    comparison = tried(hut(packs=packs), Searches(answer))
    first, second = row(comparison, "Pack A at place 1"), row(comparison, "Pack A at place 2")
    assert first.done is not None
    assert second.done is not None
    assert comparison.own.done is not None
    assert worth(second.done) < worth(first.done)
    assert worth(comparison.own.done) == worth(second.done)
    assert comparison.own.found_for == second.name
    assert comparison.places_left_out == 0
    monkeypatch.setattr(trying, "MOST_LANDINGS", 1)
    assert tried(hut(packs=packs), Searches(answer)).places_left_out == 1


def test_a_bound_counts_only_for_plans_as_good_in_what_comes_first() -> None:
    house = hut(LAYERS, spots=(pile(),))
    done = replay(house, plan_of(house, "W1>P S1 E1 N1 W1"))
    lifts, walking, breaks = 1, done.cost.walking_mm, done.cost.breaks

    def found(lifts_found: int) -> list[StageResult]:
        return [
            StageResult(name="extra lifts", value=lifts_found, bound=1, status="best found"),
            StageResult(name="walking_mm", value=walking, bound=walking - 500, status="best found"),
            StageResult(name="breaks", value=breaks, bound=breaks, status="best found"),
        ]

    # A search that found 1 lift: its bound of 1 proves the 1, its bound for the walking holds.
    same = restaged(done, found(1))
    assert [(stage.value, stage.bound, stage.status) for stage in same] == [
        (lifts, 1, "optimal"),
        (walking, walking - 500, "best found"),
        (breaks, breaks, "best found"),
    ]
    # One that found 2: still no plan has fewer than 1, but what walking with 2 lifts takes says nothing.
    other = restaged(done, found(2))
    assert [(stage.bound, stage.status) for stage in other] == [
        (1, "optimal"),
        (0, "best found"),
        (0, "best found"),
    ]
    assert [stage.bound for stage in restaged(done, [])] == [0, 0, 0]
    proven = StageResult(name="extra lifts", value=2, bound=2, status="optimal")
    with pytest.raises(AssertionError, match="a plan costs 1, less than the bound of 2"):
        restaged(done, [proven, *found(2)[1:]])
