"""Days in which anything happens in any order: nothing is lost, and there is a checked plan or a reason."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from day_houses import busy_room, line, names, text
from hypothesis import given, settings
from hypothesis import strategies as st

from packseq.check import replay
from packseq.day.goingon import go_on
from packseq.day.journal import read_journal
from packseq.day.present import Present, present_state
from packseq.day.replanned import Replanned
from packseq.day.site import Site, site_of
from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.plan.file import plan_json, read_plan
from packseq.plan.model import Move, Plan
from packseq.scenario.model import StandChoices

LIMIT_S = 5.0
FRAMES = tuple(busy_room().scenario.frames)
HEAPS = st.sampled_from([{"spot": "P"}, {"spot": "L"}, {"pack": "A"}, {"pack": "B"}])
PLACES = st.one_of(
    st.sampled_from([{"spot": "P"}, {"spot": "L"}]),
    st.builds(lambda pack, layer: {"pack": pack, "layer": layer}, st.sampled_from("AB"), st.integers(1, 6)),
)
FRAME = st.sampled_from(FRAMES)
LINES = st.one_of(
    FRAME.map(lambda frame: line("stood", frame=frame)),
    st.builds(lambda frame, to: line("set aside", frame=frame, to=to), FRAME, HEAPS),
    FRAME.map(lambda frame: line("missing", frame=frame)),
    FRAME.map(lambda frame: line("damaged", frame=frame)),
    st.builds(lambda frame, where: line("found", frame=frame, where=where), FRAME, PLACES),
    st.builds(
        lambda pack, x, turn: line("landed", pack=pack, at_mm=[x, -5000], bearing_deg=turn),
        st.sampled_from("AB"),
        st.integers(-9000, 9000),
        st.sampled_from([0, 45, 90]),
    ),
    st.integers(1, 6).map(lambda people: line("crew", people=people)),
    st.builds(
        lambda what, frame: line("undone", what=what, frame=frame),
        st.sampled_from(["stood", "set aside", "missing", "damaged", "found"]),
        FRAME,
    ),
)
STANDS = st.sampled_from(
    [StandChoices(), StandChoices(lap="both-ways"), StandChoices(lap="free", hold_open=2)]
)


def site_after(folder: Path, house: House, lines: list[dict[str, Any]], old: Plan | None = None) -> Site:
    file = folder / "day.jsonl"
    file.write_text(text(lines), encoding="utf-8")
    journal = read_journal(file, names(house))
    assert journal.faults == ()
    assert len(journal.lines) == len(lines)
    return site_of(present_state(house, names(house), old, journal.lines), old, journal.lines)


def everywhere(now: Present) -> list[str]:
    lying = [name for heap in now.state.heaps for name in now.state.lying(heap)]
    return [*now.state.stood, *lying]


def hold(site: Site) -> None:
    """Hold a site to what must be so after any journal whatever."""
    now = site.now
    placed = everywhere(now)
    # Nothing is in two places; what is nowhere was noted as missing, or is damaged and was missing before.
    assert len(placed) == len(set(placed))
    nowhere = set(FRAMES) - set(placed)
    assert set(now.missing) <= nowhere <= {*now.missing, *now.damaged}
    assert {name: heap for heap in now.state.heaps for name in now.state.lying(heap)} == now.state.lies
    assert now.state.standing == frozenset(now.state.stood)
    assert nowhere <= set(site.left.frames)


def gone_on(site: Site) -> Replanned | None:
    """Return the plan from a site, None where there is a clear reason that there is none."""
    try:
        return go_on(site, limit_s=LIMIT_S)
    except NoPlanError as error:
        # Whatever is there may not be stood: each reason names a frame or a rule.
        assert len(site.left.frames) == len(FRAMES) - len(site.now.state.stood)
        assert all(conflict.text for conflict in error.conflicts)  # noqa: PT017
    except LimitError as error:
        assert any("stuck" in reason for reason in error.lines)  # noqa: PT017
    return None


@settings(max_examples=20, deadline=None)
@given(lines=st.lists(LINES, max_size=25), stand=STANDS)
def test_nothing_is_lost_and_there_is_a_checked_plan_or_a_reason(
    tmp_path_factory: pytest.TempPathFactory, lines: list[dict[str, Any]], stand: StandChoices
) -> None:
    house = busy_room(stand)
    folder = tmp_path_factory.mktemp("day")
    site = site_after(folder, house, lines)
    hold(site)
    if len(site.now.state.stood) == len(FRAMES):
        return
    made = gone_on(site)
    if made is None:
        return
    file = folder / "plan.json"
    file.write_text(plan_json(made.done.plan), encoding="utf-8")
    again = replay(house, read_plan(file))
    assert again.violations == ()
    stood = again.state_after(len(made.done.plan.moves)).standing
    assert stood == frozenset(FRAMES) - frozenset(site.left.frames)
    assert len(stood) > len(site.now.state.stood)


@settings(max_examples=10, deadline=None)
@given(first=st.integers(0, 20), lines=st.lists(LINES, max_size=6), data=st.data())
def test_a_plan_followed_for_a_while_is_made_again_and_followed_on(
    tmp_path_factory: pytest.TempPathFactory, first: int, lines: list[dict[str, Any]], data: st.DataObject
) -> None:
    house = busy_room()
    folder = tmp_path_factory.mktemp("day")
    plan = go_on(site_after(folder, house, []), limit_s=LIMIT_S).done.plan
    noted = [*map(line_of, plan.moves[:first]), *lines]
    site = site_after(folder, house, noted, plan)
    hold(site)
    if len(site.now.state.stood) == len(FRAMES):
        return
    made = gone_on(site)
    if made is None:
        return
    if not lines:
        # All went as planned: what is left of the old plan is as good as before, and nothing better is lost.
        assert made.rest is not None
        assert made.rest.done.kept
        assert made.done.cost.extra_lifts <= made.rest.done.cost.extra_lifts
    moves = made.done.plan.moves
    count = data.draw(st.integers(0, len(moves)))
    later = site_after(folder, house, [*noted, *map(line_of, moves[:count])], made.done.plan)
    # The new plan knows what it was made from, and is carried out so far.
    assert later.followed is not None
    assert later.followed.unknown == ()
    assert later.followed.done == moves[:count]
    assert later.followed.open == moves[count:]
    assert later.now.state == made.done.state_after(count)


def line_of(move: Move) -> dict[str, Any]:
    if move.do == "stand":
        return line("stood", frame=move.frame)
    assert move.to is not None
    return line("set aside", frame=move.frame, to=move.to.model_dump(exclude_none=True))
