from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from crew_pages import DEMOS, HOSTILE, demo, page_of
from markup_reading import Seen

from packseq.check import Violation
from packseq.page.crew import crew_page
from packseq.page.live import page_data
from packseq.page.tags import code_text

LARGEST_BYTES = 1_500_000


@pytest.mark.parametrize("name", DEMOS)
def test_the_data_of_every_step_are_the_checks_own_states(name: str) -> None:
    done = demo(name)
    data = page_data(done)
    frames = data["frames"]
    assert len(data["states"]) == len(done.plan.moves) + 1
    for state, true in zip(data["states"], (done.job.beginning, *done.states()), strict=True):
        assert [frames[place] for place in data["order"][: state["stood"]]] == list(true.stood)
        for heap, layers in zip(data["heaps"], state["lies"], strict=True):
            lies = [[frames[place] for place in layer] for layer in layers]
            expected = next(layers for each, layers in true.heaps.items() if str(each) == heap["said"])
            assert lies == [list(layer.frames) for layer in expected]


@pytest.mark.parametrize("name", DEMOS)
def test_every_move_has_its_step_and_every_frame_its_tag(name: str) -> None:
    done = demo(name)
    seen = Seen(page_of(name))
    ids = [attributes["id"] for _, attributes in seen.elements if attributes.get("id")]
    assert len(ids) == len(set(ids))
    moves = len(done.plan.moves)
    assert [each for each in ids if (each or "").startswith("step-")] == [
        f"step-{n}" for n in range(1, moves + 1)
    ]
    codes = [
        attributes for tag, attributes in seen.elements if tag == "svg" and attributes.get("class") == "code"
    ]
    assert len(codes) == len(done.job.house.scenario.frames)


@pytest.mark.parametrize("name", DEMOS)
def test_a_page_is_small(name: str) -> None:
    assert len(page_of(name).encode()) < LARGEST_BYTES


def test_a_step_says_all_that_the_crew_needs() -> None:
    done = demo("garden-room")
    text = Seen(page_of("garden-room")).text
    stand = next(move for move in done.plan.moves if move.do == "stand" and move.touches)
    assert stand.touches is not None
    step = (
        text[text.index(f"Step {stand.n} of ") :]
        .partition("Step ")[2]
        .partition(f"Step {stand.n + 1} of ")[0]
    )
    for said in (
        stand.frame,
        "Take it from",
        "Stand it",
        "People",
        str(stand.people),
        ", ".join(stand.touches),
    ):
        assert said in step


def test_cautions_and_no_promise_of_safety() -> None:
    text = Seen(page_of("garden-room")).text
    assert "Take care" in text
    assert "they come first" in text
    assert not re.search(r"\bsafe\b", text, re.IGNORECASE)


def test_hostile_names_stay_text() -> None:
    page = page_of("hostile")
    seen = Seen(page)
    assert "img" not in seen.names
    assert not [
        attributes for _, attributes in seen.elements if any(key.startswith("on") for key in attributes)
    ]
    assert seen.names.count("script") == 2
    for name in HOSTILE.values():
        assert name in seen.said
    data = next(
        text for text in re.findall(r'<script type="application/json"[^>]*>(.*?)</script>', page, re.DOTALL)
    )
    assert set(HOSTILE.values()) <= set(json.loads(data)["frames"])


def test_a_code_says_the_frame_and_its_number() -> None:
    done = demo("garden-room")
    stand = next(move for move in done.plan.moves if move.do == "stand")
    assert code_text(done, stand) == f"garden-room: frame {stand.frame}, stand no. 1"


def test_a_plan_that_fails_its_check_gets_no_page() -> None:
    done = demo("garden-room")
    failed = replace(done, violations=(Violation("joined", 1, "touches nothing"),))
    with pytest.raises(ValueError, match="fails"):
        crew_page(failed)


def test_a_route_with_bends_is_drawn_as_the_plan_has_it() -> None:
    done = demo("garden-room")
    move = done.plan.moves[0]
    start = done.plan.places["A"][:2]
    bends = (start, (1000.0, -1000.0), (2000.0, 3000.0))
    bent = done.plan.model_copy(
        update={"moves": (move.model_copy(update={"route_mm": bends}), *done.plan.moves[1:])}
    )
    straight = page_data(done)["moves"][0]["route"]
    drawn = page_data(replace(done, plan=bent))["moves"][0]["route"]
    assert len(straight) == 2
    assert len(drawn) == 3
    assert drawn[0] == straight[0]
