"""Crew pages of the demos and of hostile houses, by the order of a crew without a plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from packseq.baseline import by_frame_list, by_nearest
from packseq.check import Replay, replay
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.page.crew import crew_page
from packseq.scenario.model import Scenario
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
DEMOS = ("garden-room", "three-bedroom", "l-shaped", "two-level", "tight-site")


@cache
def demo(name: str) -> Replay:
    """Return a demo by a plan that keeps every rule."""
    return unplanned(derive_house(read_scenario(SCENARIOS / name)))


def unplanned(house: House) -> Replay:
    """Return a house by what lies nearest, or by the frame list where a crew gets stuck with that."""
    plan = by_nearest(house).plan or by_frame_list(house).plan
    assert plan is not None
    done = replay(house, plan)
    assert done.kept, done.violations
    return done


HOSTILE = {
    "E1": "<img src=x onerror=1",
    "E2": "=cmd()|'/c'!A0",
    "N1": "</script><b>\"&'`",
    "N2": "井戸の壁 ü",
}
"""What the garden room's frames are called by somebody who means no good; 20 characters at most."""


@cache
def page_of(name: str) -> str:
    """Return the crew's page of a demo, or of the house with hostile names."""
    return crew_page(hostile() if name == "hostile" else demo(name))


@cache
def hostile() -> Replay:
    """Return the garden room with hostile names of house, frames, pack and spot."""
    scenario = read_scenario(SCENARIOS / "garden-room")
    called = {name: HOSTILE.get(name, name) for name in scenario.frames}
    pack = scenario.packs["A"]
    layers = tuple(tuple(called[name] for name in layer) for layer in pack.layers)
    renamed: Scenario = replace(
        scenario,
        name="<svg onload=alert(1)> ${x}",
        frames={called[name]: replace(frame, name=called[name]) for name, frame in scenario.frames.items()},
        packs={"<i>A": replace(pack, name="<i>A", layers=layers)},
        spots={f"&{name}": replace(spot, name=f"&{name}") for name, spot in scenario.spots.items()},
    )
    return unplanned(derive_house(renamed))
