"""Plans that begin in the middle of the job, on the hut of four frames: S1, E1, N1, W1 round.

Pack A from the top: W1 / S1 / E1 / N1, centre (6000, -4000); the pile P lies at (0, -4000), the lean L too.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from small_house import hut, lean, pile, room, steps

from packseq.baseline import by_frame_list, by_nearest
from packseq.check import replay
from packseq.house.model import House
from packseq.plan.begin import Begin, LayerNow, as_begun
from packseq.plan.build import build_plan
from packseq.plan.direction import directions_from
from packseq.plan.file import plan_json, read_plan
from packseq.plan.model import LapDirection, Plan
from packseq.scenario.model import StandChoices


def site() -> House:
    return hut(spots=[pile("P"), lean("L")])


# W1 waits on the pile, S1 stands.
BEGIN = Begin(
    stood=("S1",),
    packs={"A": (LayerNow(layer=3, frames=("E1",)), LayerNow(layer=4, frames=("N1",)))},
    spots={"P": ("W1",)},
    lines=3,
    last_at="2026-03-02T07:21:05+01:00",
)


def plan_from(
    house: House, begin: Begin, order: str, direction: LapDirection | None = "anticlockwise"
) -> Plan:
    packs = as_begun(house, begin).scenario.packs
    places = {name: pack.places[0] for name, pack in packs.items()}
    return build_plan(
        house,
        steps(order),
        spots=house.scenario.spots,
        places=places,
        begin=begin,
        direction=direction,
    )


def wrong(house: House, plan: Plan) -> list[str]:
    return [str(each) for each in replay(house, plan).violations]


def test_a_plan_goes_on_from_what_stands_and_lies() -> None:
    house = site()
    plan = plan_from(house, BEGIN, "E1 N1 W1")
    done = replay(house, plan)
    assert done.violations == ()
    assert [move.stand for move in plan.moves] == [2, 3, 4]
    assert str(plan.moves[2].origin) == "spot P"
    assert done.state_after(0).stood == ("S1",)
    assert done.state_after(3).stood == ("S1", "E1", "N1", "W1")
    # E1 touches S1, N1 touches E1, W1 touches N1: no breaks; nothing is set aside any more. The team
    # walks from A (6000, -4000) to the middle of E1 (6000, 4000), 8000; back 8000; to the middle of N1
    # (3000, 8000), sqrt(3000^2 + 12000^2) = 12369; to P (0, -4000) the same; to the middle of W1
    # (0, 4000), 8000. The walls are open from end to end.
    cost = done.cost
    assert (cost.extra_lifts, cost.breaks) == (0, 0)
    assert cost.walking_mm == 8000 + 8000 + 12369 + 12369 + 8000


def test_a_begun_plan_is_read_back_as_it_was_written(tmp_path: Path) -> None:
    begin = BEGIN.model_copy(
        update={"left_out": ("W1",), "people": 3, "landed": {"A": (1.0, 2.0, 90.0)}, "stood": ("S1",)}
    )
    plan = plan_from(site(), begin, "E1 N1")
    file = tmp_path / "plan.json"
    file.write_text(plan_json(plan), encoding="utf-8")
    assert read_plan(file) == plan
    assert replay(site(), read_plan(file)).kept
    # A plan from the delivered state says nothing of a beginning.
    assert '"begins"' not in plan_json(plan.model_copy(update={"begins": None}))


@pytest.mark.parametrize(
    ("order", "rule"),
    [
        ("N1 E1 W1", "top-of-pack: N1 is lifted from under E1"),
        ("W1 E1 N1", "lap-order: W1 is stood before E1, N1, going anticlockwise"),
        ("E1 W1 N1", "lap-order: W1 is stood before N1, going anticlockwise"),
    ],
)
def test_rules_hold_from_the_beginning_on(order: str, rule: str) -> None:
    told = wrong(site(), plan_from(site(), BEGIN, order))
    assert any(rule in text for text in told), told


def test_what_was_done_before_is_not_judged() -> None:
    # W1 and E1 stand without the reference wall, and N1 between them is left out: clockwise, if any way.
    begin = Begin(stood=("W1", "E1"), packs={"A": (LayerNow(frames=("N1",), layer=4),)}, spots={"P": ("S1",)})
    assert wrong(site(), plan_from(site(), begin, "S1 N1", "clockwise")) == []
    # But N1 before the reference wall is.
    told = wrong(site(), plan_from(site(), begin, "N1 S1", "clockwise"))
    assert "move 1, reference-first: N1 is stood before S1 of the reference wall" in told


def test_the_lap_goes_on_as_it_was_begun() -> None:
    house = room(spots=[pile()])
    begun = ("S1", "S2")
    assert directions_from(house, begun) == ("anticlockwise",)
    assert directions_from(house, ("S2", "S1", "W2")) == ("clockwise",)
    # The wall is begun at S1's end.
    assert directions_from(house, ("S1",)) == ("anticlockwise",)
    assert directions_from(house, ()) == ("anticlockwise", "clockwise")
    # As it is, no direction fits: any may be gone on in.
    assert directions_from(house, ("S1", "W2", "S2")) == ("anticlockwise", "clockwise")
    clockwise = StandChoices(direction="clockwise")
    chosen = replace(house, scenario=replace(house.scenario, stand=clockwise))
    assert directions_from(chosen, begun) == ("clockwise",)
    left = tuple(name for name in house.scenario.frames if name not in begun)
    begin = Begin(stood=begun, packs={"A": (LayerNow(layer=1, frames=left),)})
    good = plan_from(house, begin, "E1 E2 N1 N2 W1 I1 W2")
    assert wrong(house, good) == []
    back = plan_from(house, begin, "W2 W1 N2 N1 E2 I1 E1", "clockwise")
    assert "plan-file: the lap goes anticlockwise, the plan says clockwise" in wrong(house, back)


def test_frames_left_out_are_not_asked_for_and_may_not_stand() -> None:
    begin = BEGIN.model_copy(update={"left_out": ("W1",)})
    assert wrong(site(), plan_from(site(), begin, "E1 N1")) == []
    assert wrong(site(), plan_from(site(), begin, "E1 N1 W1")) == ["plan-file: left out, but standing: W1"]
    assert wrong(site(), plan_from(site(), BEGIN, "E1 N1")) == ["plan-file: never stood: W1"]


def test_a_left_out_frame_may_be_set_aside() -> None:
    begin = Begin(
        packs={
            "A": tuple(
                LayerNow(layer=n, frames=(name,)) for n, name in enumerate(("W1", "S1", "E1", "N1"), 1)
            )
        },
        left_out=("W1",),
    )
    plan = plan_from(site(), begin, "W1>L S1 E1 N1")
    assert wrong(site(), plan) == []
    assert replay(site(), plan).cost.extra_lifts == 1


def test_the_crew_and_the_place_of_a_pack_are_as_they_are_now() -> None:
    house = hut(spots=[pile("P")], masses={"E1": 110.0})  # takes 5 people at 25 kg each
    assert any("crew-lift" in text for text in wrong(house, plan_from(house, BEGIN, "E1 N1 W1")))
    more = BEGIN.model_copy(update={"people": 5})
    assert wrong(house, plan_from(house, more, "E1 N1 W1")) == []
    moved = more.model_copy(update={"landed": {"A": (0.0, -9000.0, 0.0)}})
    plan = plan_from(house, moved, "E1 N1 W1")
    assert plan.places == {"A": (0, -9000, 0)}
    assert wrong(house, plan) == []
    elsewhere = plan.model_copy(update={"begins": more})
    assert any("a place that the scenario does not give it" in text for text in wrong(house, elsewhere))


def test_a_beginning_that_cannot_be_is_told_and_does_no_harm() -> None:
    begin = Begin(
        stood=("S1", "S1", "X9"),
        packs={"A": (LayerNow(layer=3, frames=("E1", "S1")),), "Z": ()},
        spots={"P": ("E1",), "Q": ("W1",)},
        landed={"Y": (0.0, 0.0, 0.0)},
    )
    plan = plan_from(site(), BEGIN, "E1 N1 W1").model_copy(update={"begins": begin})
    told = wrong(site(), plan)
    for text in (
        "plan-file: the plan begins with frames that there are not: X9",
        "plan-file: the plan begins with packs that there are not: Z, Y",
        "plan-file: the plan begins with spots that there are not: Q",
        "plan-file: in several places where the plan begins: S1, E1",
        "plan-file: nowhere where the plan begins, and not left out: N1",
        "move 2, plan-file: N1 lies nowhere where the plan begins",
    ):
        assert text in told


@pytest.mark.parametrize("crew", [by_nearest, by_frame_list])
def test_crews_without_a_plan_go_on_from_anywhere(crew: type) -> None:
    outcome = crew(site(), begin=BEGIN)
    assert outcome.plan is not None
    assert wrong(site(), outcome.plan) == []
    assert outcome.plan.begins == BEGIN
    assert len(outcome.plan.moves) == 3
