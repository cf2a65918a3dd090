"""Little houses drawn in Python: lines in mm, corners butted, frames 90 mm thick."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from random import Random

import pytest

from packseq.errors import Fault, InputError
from packseq.geometry import Point
from packseq.house.derive import derive_house
from packseq.scenario.model import Crew, Frame, Location, Scenario, StandChoices

THICKNESS = 90.0
Line = tuple[float, float, float, float]


def frame(
    name: str,
    line: Line,
    *,
    row: int = 2,
    level: int = 1,
    thickness: float = THICKNESS,
    location: Location | None = None,
) -> Frame:
    return Frame(
        name=name,
        level=level,
        start=(line[0], line[1]),
        end=(line[2], line[3]),
        height_mm=2400.0,
        thickness_mm=thickness,
        location=location,
        mass_kg=50.0,
        mass_is_estimate=False,
        openings=(),
        row=row,
    )


def scenario_of(frames: Sequence[Frame], **choices: object) -> Scenario:
    """A scenario of nothing but frames; rows are numbered in the order given, from 2."""
    numbered = [replace(each, row=row) for row, each in enumerate(frames, start=2)]
    bare = Scenario(
        name="sketch",
        slab=((0.0, 0.0), (9000.0, 0.0), (9000.0, 9000.0)),
        frames={each.name: each for each in numbered},
        packs={},
        crew=Crew(people=4),
    )
    return replace(bare, **choices)  # type: ignore[arg-type]


def sketch(
    lines: Mapping[str, Line],
    *,
    external: Collection[str] = (),
    internal: Collection[str] = (),
    gaps: tuple[tuple[str, str], ...] = (),
    reference: tuple[str, ...] | None = None,
) -> Scenario:
    """One level; locations are left to be derived but for those given."""
    located: dict[str, Location] = dict.fromkeys(external, "external")
    located |= dict.fromkeys(internal, "internal")
    return scenario_of(
        [frame(name, line, location=located.get(name)) for name, line in lines.items()],
        gaps=gaps,
        stand=StandChoices(reference=reference),
    )


def box(length: float = 6000.0, depth: float = 4000.0, prefix: str = "") -> dict[str, Line]:
    """Four walls: S and N run the full length, E and W stand between them."""
    return {
        f"{prefix}S": (0.0, 45.0, length, 45.0),
        f"{prefix}E": (length - 45.0, 90.0, length - 45.0, depth - 90.0),
        f"{prefix}N": (length, depth - 45.0, 0.0, depth - 45.0),
        f"{prefix}W": (45.0, depth - 90.0, 45.0, 90.0),
    }


def jumbled(scenario: Scenario, seed: int) -> Scenario:
    """The same job with its frames in another order and some drawn from the other end."""
    dice = Random(seed)
    frames = [
        replace(each, start=each.end, end=each.start) if dice.random() < 0.5 else each
        for each in scenario.frames.values()
    ]
    dice.shuffle(frames)
    return replace(scenario, frames={each.name: each for each in frames})


def faults_of(scenario: Scenario) -> tuple[Fault, ...]:
    with pytest.raises(InputError) as caught:
        derive_house(scenario)
    return caught.value.faults


def texts(scenario: Scenario) -> list[str]:
    return [fault.text for fault in faults_of(scenario)]


def turned(point: Point, degrees: float) -> Point:
    """A point turned about the origin, anticlockwise."""
    angle = math.radians(degrees)
    return (
        point[0] * math.cos(angle) - point[1] * math.sin(angle),
        point[0] * math.sin(angle) + point[1] * math.cos(angle),
    )
