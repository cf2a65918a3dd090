"""Small invented layouts for the route tests, made by hand: no derived house is needed."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.geometry import Point, Ring
from packseq.routes.values import Stop
from packseq.scenario.model import Crew, Frame, Opening, Scenario

THICKNESS_MM = 90.0


def wall(
    name: str,
    start: Point,
    end: Point,
    *openings: Opening,
    level: int = 1,
    height_mm: float = 2400.0,
    thickness_mm: float = THICKNESS_MM,
) -> Frame:
    """Return a frame on a line; mass and row do not matter to routes."""
    return Frame(
        name=name,
        level=level,
        start=start,
        end=end,
        height_mm=height_mm,
        thickness_mm=thickness_mm,
        location="internal",
        mass_kg=40.0,
        mass_is_estimate=False,
        openings=openings,
        row=2,
    )


def door(from_mm: float, width_mm: float = 1000.0, sill_mm: float = 0.0, head_mm: float = 2040.0) -> Opening:
    """Return a hole in a frame: a full-height door unless told otherwise."""
    return Opening("door", from_mm, width_mm, sill_mm, head_mm)


def site(frames: Iterable[Frame], no_go: tuple[Ring, ...] = (), clearance_mm: float = 50.0) -> Scenario:
    """Return a scenario of frames without packs or spots: tests add their own stops."""
    return Scenario(
        name="routes",
        slab=((0.0, 0.0), (9000.0, 0.0), (9000.0, 9000.0), (0.0, 9000.0)),
        frames={frame.name: frame for frame in frames},
        packs={},
        crew=Crew(people=4),
        no_go=no_go,
        clearance_mm=clearance_mm,
    )


def at(x: float, y: float, level: int = 1) -> Stop:
    """Return a stop that belongs to no frame."""
    return Stop(level, (x, y))
