from __future__ import annotations

from dataclasses import replace

from garden import garden_by_hand, replayed, scenario_house, shown

from packseq.check import replay
from packseq.report.plandata import verdict_document
from packseq.report.verdict import verdict


def test_a_sound_plan_is_said_to_keep_every_rule() -> None:
    done = garden_by_hand()
    text = shown(verdict("plan.json", done, None))
    assert text.startswith("plan.json keeps every rule of garden-room")
    assert "What is wrong" not in text
    assert "Extra lifts by pack: A 4." in text
    assert verdict_document(done, None)["kept"] is True


def test_every_broken_rule_is_named_with_its_move() -> None:
    # N2 lies above E2, and E1 comes second going clockwise.
    done = replayed(scenario_house("garden-room"), "E2 N2>S1 E5>S2 E4>S2 E1 N1>S1 E6 E5 E4 N1 N2 E3")
    text = shown(verdict("plan.json", done, "Perhaps so."))
    assert text.startswith("plan.json fails its check for garden-room: 1 thing is wrong.\nPerhaps so.")
    assert "1 top-of-pack E2 is lifted from under N2, E5, E4 in pack A" in text
    assert "Moves that cannot be carried out are left out" in text
    (violation,) = verdict_document(done, None)["violations"]
    assert (violation["move"], violation["rule"]) == (1, "top-of-pack")


def test_what_concerns_no_one_move_has_no_number() -> None:
    done = garden_by_hand()
    changed = replay(done.job.house, done.plan.model_copy(update={"scenario_sha256": "0"}))
    text = shown(verdict("plan.json", changed, None))
    assert "\nplan-file the scenario's files have changed since the plan was made" in text


def test_the_true_cost_is_shown_and_not_the_stated_one() -> None:
    done = garden_by_hand()
    costly = replace(done, cost=replace(done.cost, extra_lifts=7, walking_mm=1_000_000, person_mm=2_500_000))
    assert "7 extra lifts, 1000 m walked, 2500 person-metres." in shown(verdict("plan.json", costly, None))
