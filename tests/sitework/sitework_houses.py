"""Little houses for the site work, drawn in Python, and the demos."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from packseq.geometry import Ring
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.model import Crew, Frame, Scenario, StandChoices
from packseq.scenario.read import read_scenario
from packseq.sitework.setout import Choices, SetOut, set_out

SCENARIOS = Path(__file__).parents[2] / "scenarios"
Line = tuple[float, float, float, float]


@cache
def demo(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))


def drawn(
    lines: Mapping[str, Line],
    slab: Ring,
    *,
    thickness_mm: float = 90.0,
    stand: StandChoices | None = None,
) -> House:
    """Return a house of one level; a name that begins with I is an internal frame."""
    frames = {
        name: Frame(
            name=name,
            level=1,
            start=(x1, y1),
            end=(x2, y2),
            height_mm=2400.0,
            thickness_mm=thickness_mm,
            location="internal" if name.startswith("I") else "external",
            mass_kg=50.0,
            mass_is_estimate=False,
            openings=(),
            row=row,
        )
        for row, (name, (x1, y1, x2, y2)) in enumerate(lines.items(), start=2)
    }
    scenario = Scenario(
        name="drawn house",
        slab=slab,
        frames=frames,
        packs={},
        crew=Crew(people=4),
        stand=stand or StandChoices(),
        sha256="ab12",
    )
    return derive_house(scenario)


def butted_box(length_mm: float, depth_mm: float, thickness_mm: float = 90.0) -> dict[str, Line]:
    """Four walls flush with a slab of this size: S and N run the full length."""
    half = thickness_mm / 2
    return {
        "S": (0.0, half, length_mm, half),
        "E": (length_mm - half, thickness_mm, length_mm - half, depth_mm - thickness_mm),
        "N": (length_mm, depth_mm - half, 0.0, depth_mm - half),
        "W": (half, depth_mm - thickness_mm, half, thickness_mm),
    }


def slab_of(length_mm: float, depth_mm: float) -> Ring:
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, depth_mm), (0.0, depth_mm))


def lines_of(house: House, level: int = 0, choices: Choices | None = None) -> SetOut:
    return set_out(house, house.levels[level], choices or Choices())
