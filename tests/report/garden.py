"""The garden room with the plan worked out by hand in its note, and reports as text."""

from __future__ import annotations

import io
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from rich.console import Console, RenderableType
from small_house import steps

from packseq.check import Replay, replay
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.build import build_plan
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"

BY_HAND = "N2>S1 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3"
"""Clockwise with four extra lifts and E3 held open, as in the note of the garden room."""


@cache
def scenario_house(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))


def replayed(house: House, text: str) -> Replay:
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    return replay(house, build_plan(house, steps(text), spots=scenario.spots, places=places))


def garden_by_hand() -> Replay:
    done = replayed(scenario_house("garden-room"), BY_HAND)
    assert done.kept, done.violations
    return done


def shown(parts: Iterable[RenderableType], width: int = 200) -> str:
    """Return a report as text, runs of spaces made one, so that columns may move.

    The console reads markup, so that a report that lets any through shows it.
    """
    stream = io.StringIO()
    console = Console(file=stream, width=width)
    for part in parts:
        console.print(part)
    return "\n".join(" ".join(line.split()) for line in stream.getvalue().splitlines())


def flowing(parts: Iterable[RenderableType]) -> str:
    """Return a report as one long line, so that prose may wrap anywhere."""
    return shown(parts).replace("\n", " ")
