"""Going on from any state of the day against trying everything: as good, and no bound that is not one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from day_houses import line, names, text
from drawn_houses import ANY_LIFT_WORTH_M, PACK_PLACES, houses
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from oracle import Oracle
from standup_jobs import checked

from packseq.day.goingon import go_on
from packseq.day.journal import read_journal
from packseq.day.present import present_state
from packseq.day.site import Site, site_of
from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.plan.begin import as_begun
from packseq.plan.direction import directions_from

Day = tuple[House, list[dict[str, Any]]]
LIMIT_S = 60.0
quick = settings(
    max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)


@st.composite
def lines(draw: st.DrawFn, house: House) -> list[dict[str, Any]]:
    """Draw what happened: mostly what a crew does, now and then what no plan would have brought about."""
    scenario = house.scenario
    frames, spots, packs = list(scenario.frames), list(scenario.spots), list(scenario.packs)
    frame, pack, spot = st.sampled_from(frames), st.sampled_from(packs), st.sampled_from(spots)
    in_turn = [
        name
        for level in house.levels
        for name in (
            *level.stand_round(draw(st.sampled_from(["anticlockwise", "clockwise"]))),
            *level.internals,
        )
    ]
    stood = [line("stood", frame=name) for name in in_turn[: draw(st.integers(0, len(frames) - 2))]]
    aside = st.builds(lambda name, at: line("set aside", frame=name, to={"spot": at}), frame, spot)
    found = st.builds(
        lambda name, at, layer: line("found", frame=name, where={"pack": at, "layer": layer}),
        frame,
        pack,
        st.integers(1, 6),
    )
    landed = st.builds(
        lambda name, at: line("landed", pack=name, at_mm=list(at), bearing_deg=0),
        pack,
        st.sampled_from(PACK_PLACES),
    )
    missing = frame.map(lambda name: line("missing", frame=name))
    damaged = frame.map(lambda name: line("damaged", frame=name))
    out_of_turn = frame.map(lambda name: line("stood", frame=name))
    odd = st.one_of(aside, aside, aside, found, landed, missing, damaged, out_of_turn)
    return [*draw(st.lists(aside, max_size=3)), *stood, *draw(st.lists(odd, max_size=3))]


@st.composite
def days(draw: st.DrawFn, house: st.SearchStrategy[House]) -> Day:
    drawn = draw(house)
    return drawn, draw(lines(drawn))


def hold_against_the_oracle(folder: Path, house: House, noted: list[dict[str, Any]]) -> None:
    file = folder / "day.jsonl"
    file.write_text(text(noted), encoding="utf-8")
    noted_lines = read_journal(file, names(house)).lines
    site = site_of(present_state(house, names(house), None, noted_lines), None, noted_lines)
    if len(site.now.state.stood) == len(house.scenario.frames):
        return
    best = tried(site).best()
    try:
        plan = go_on(site, limit_s=LIMIT_S).done.plan
    except NoPlanError:
        assert (
            best is None or not set(house.scenario.frames) - set(site.left.frames) - site.now.state.standing
        )
        return
    except LimitError:
        return
    checked(house, plan)
    assert best is not None
    assert tuple(stage.value for stage in plan.stages) >= best.cost
    for stage, least in zip(plan.stages, best.cost, strict=True):
        assert stage.bound <= least, (plan.stages, best)
        if stage.status != "optimal":
            break
        assert stage.value == least, (plan.stages, best)


def tried(site: Site) -> Oracle:
    now = as_begun(site.house, site.begin)
    return Oracle(now, begin=site.begin, ways=directions_from(now, site.begin.stood))


@quick
@given(days(houses()))
def test_going_on_is_as_good_as_trying_everything(tmp_path_factory: pytest.TempPathFactory, day: Day) -> None:
    hold_against_the_oracle(tmp_path_factory.mktemp("day"), *day)


@settings(quick, max_examples=6)
@given(days(houses(lift_worth_m=ANY_LIFT_WORTH_M)))
def test_going_on_by_one_cost_is_as_good_as_trying_everything(
    tmp_path_factory: pytest.TempPathFactory, day: Day
) -> None:
    hold_against_the_oracle(tmp_path_factory.mktemp("day"), *day)


@settings(quick, max_examples=6)
@given(days(houses(tops=True)))
def test_going_on_claims_nothing_that_a_frame_on_top_of_a_pack_betters(
    tmp_path_factory: pytest.TempPathFactory, day: Day
) -> None:
    hold_against_the_oracle(tmp_path_factory.mktemp("day"), *day)


@pytest.mark.slow
@settings(quick, max_examples=200)
@given(days(houses()))
def test_going_on_is_as_good_as_trying_everything_on_many_days(
    tmp_path_factory: pytest.TempPathFactory, day: Day
) -> None:
    hold_against_the_oracle(tmp_path_factory.mktemp("day"), *day)
