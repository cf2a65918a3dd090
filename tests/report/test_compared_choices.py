"""How sure a row is, in few words, and what the prenailer is told."""

from __future__ import annotations

import pytest
from garden import garden_by_hand, shown

from packseq.compare.outcome import Outcome
from packseq.errors import Conflict
from packseq.plan.model import StageResult, Status
from packseq.report.compared import blame_sections, how_sure


def stage(name: str, value: int, bound: int) -> StageResult:
    status: Status = "optimal" if value == bound else "best found"
    return StageResult(name=name, value=value, bound=bound, status=status)


@pytest.mark.parametrize(
    ("lifts", "walking", "said"),
    [
        ((4, 4), (90_000, 90_000), "proven"),
        ((4, 4), (90_400, 85_400), "lifts proven; at least 85 m"),
        ((4, 4), (90_000, 0), "lifts proven; how much could be saved is not known"),
        ((4, 1), (90_000, 50_000), "best found; at least 1 lift and at least 50 m"),
        ((4, 3), (90_000, 0), "best found; at least 3 lifts"),
        ((4, 0), (90_000, 0), "best found; how much could be saved is not known"),
    ],
)
def test_what_is_proven_of_a_plan(lifts: tuple[int, int], walking: tuple[int, int], said: str) -> None:
    stages = (stage("extra lifts", *lifts), stage("walking_mm", *walking), stage("breaks", 3, 0))
    assert how_sure(Outcome("Free lap", None, garden_by_hand(), stages)) == said


def test_lifts_and_walking_as_one_cost() -> None:
    row = Outcome("Free lap", None, garden_by_hand(), (stage("cost_mm", 250_000, 240_000),))
    assert how_sure(row) == "best found; at least 240 m"


def test_why_there_is_no_plan() -> None:
    conflicts = (Conflict(("spot-room", "lap-order"), "a"), Conflict(("crew-lift",), "b"))
    assert how_sure(Outcome("x", None, conflicts=conflicts)) == "no plan: crew-lift, lap-order, spot-room"
    assert how_sure(Outcome("x", None, reason="late")) == "no plan found"
    assert how_sure(Outcome("x", None, searched=False)) == "not searched"
    assert how_sure(Outcome("x", None, planned=False, reason="no room")) == "gets stuck"
    assert how_sure(Outcome("x", None, garden_by_hand(), planned=False)) == "unplanned"


def test_the_prenailer_is_told_pack_by_pack() -> None:
    text = shown(blame_sections(Outcome("As it is", None, garden_by_hand())))
    assert "A N2 E5, E4, E2, E1, N1, E6 load N2 below E6 1\nE5 E2, E1, E6 load E5 below E6 1" in text
    assert blame_sections(Outcome("As it is", None)) == ()
