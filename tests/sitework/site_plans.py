"""Checked plans of the demo houses, and little houses drawn for one question."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from packseq.baseline import by_frame_list
from packseq.check import Replay, replay
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.routes.engine import build_routes
from packseq.routes.values import spot_stop
from packseq.scenario.model import Crew, Frame, Opening, Pack, Place, Scenario
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
DEMOS = ("garden-room", "three-bedroom", "l-shaped", "two-level", "tight-site")

each_demo = pytest.mark.parametrize("demo", DEMOS)


@cache
def demo_house(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))


@cache
def demo_plan(name: str) -> Replay:
    """Return what a crew without a plan does with a demo, going anticlockwise: it keeps the rules.

    Cheap: one direction, and the routes are built once.
    """
    house = demo_house(name)
    routes = build_routes(house.scenario, [spot_stop(spot) for spot in house.scenario.spots.values()])
    stand = replace(house.scenario.stand, direction="anticlockwise")
    one_way = replace(house, scenario=replace(house.scenario, stand=stand))
    plan = by_frame_list(one_way, routes=routes).plan
    assert plan is not None
    done = replay(house, plan, routes)
    assert done.kept
    return done


Line = tuple[float, float, float, float]

OUTER: dict[str, Line] = {
    "S": (0, 45, 6000, 45),
    "E": (5955, 90, 5955, 5910),
    "N": (6000, 5955, 0, 5955),
    "W": (45, 5910, 45, 90),
}
"""A box of 6 m by 6 m: four frames, butted at the corners, the south and north ones running through."""


def drawn(name: str, line: Line, *openings: Opening, mass_kg: float = 60.0, height_mm: float = 2400) -> Frame:
    x1, y1, x2, y2 = line
    return Frame(name, 1, (x1, y1), (x2, y2), height_mm, 90, None, mass_kg, False, openings, 2)


def stood_in_order(frames: Sequence[Frame], *, slab_mm: float = 6000) -> Replay:
    """Return the plan that stands frames in the order given; they come in one pack far off, a layer each."""
    layers = tuple((each.name,) for each in frames)
    numbers = tuple(range(1, len(frames) + 1))
    pack = Pack("A", 1, (Place((3000, -20_000), 0),), 0, layers, numbers, 6000, 2400)
    scenario = Scenario(
        name="box",
        slab=((0, 0), (slab_mm, 0), (slab_mm, slab_mm), (0, slab_mm)),
        frames={each.name: each for each in frames},
        packs={"A": pack},
        crew=Crew(6),
        sha256="ab",
    )
    house = derive_house(scenario)
    steps = tuple(Step("stand", each.name) for each in frames)
    return replay(house, build_plan(house, steps, spots={}, places={"A": pack.places[0]}))
