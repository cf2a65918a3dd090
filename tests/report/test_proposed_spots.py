"""Why a proposed spot is where it is, as the report and the page tell it."""

from __future__ import annotations

from pathlib import Path

from small_house import hut, lean, plan_of

from packseq.plan.file import plan_json, read_plan
from packseq.plan.model import Plan, PlannedSpot
from packseq.report.waiting import about_spot

WHY = "in the room between E4 and I3, 3 m from where I1 stands"


def proposed(*, why: str | None) -> PlannedSpot:
    return PlannedSpot.of(lean("S1")).model_copy(update={"why": why, "against": ("S1", "E1")})


def test_a_proposed_spot_says_why_it_is_there() -> None:
    assert about_spot(proposed(why=WHY)).endswith(f" Proposed: {WHY}.")


def test_a_spot_of_the_scenario_needs_no_reason() -> None:
    assert "Proposed" not in about_spot(proposed(why=None))


def written_and_read(folder: Path, plan: Plan) -> Plan:
    file = folder / "plan.json"
    file.write_text(plan_json(plan), encoding="utf-8")
    return read_plan(file)


def test_reason_and_wall_come_back_from_the_plan_file(tmp_path: Path) -> None:
    plan = plan_of(hut(), "W1 S1 E1 N1").model_copy(update={"spots": (proposed(why=WHY),)})
    (spot,) = written_and_read(tmp_path, plan).spots
    assert (spot.why, spot.against, spot.spot().against) == (WHY, ("S1", "E1"), ("S1", "E1"))


def test_what_a_spot_does_not_have_is_left_out_of_the_plan_file() -> None:
    plan = plan_of(hut(), "W1 S1 E1 N1").model_copy(update={"spots": (PlannedSpot.of(lean("S1")),)})
    line = next(line for line in plan_json(plan).splitlines() if '"S1", "at_mm"' in line)
    assert all(name not in line for name in ("why", "against", "level"))
