"""A site.toml to begin with: commented, sound as it stands, to be put right for the site."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packseq.entry.tables import LAYOUT_COLUMNS, Grid, written
from packseq.geometry import Point
from packseq.scenario.files import FRAMES, LAYOUT, OPENINGS, PACKS
from packseq.scenario.frames import FRAMES_SHAPE
from packseq.scenario.openings import OPENINGS_SHAPE
from packseq.scenario.stacks import PACKS_SHAPE

_SELDOM = frozenset({"x_mm", "y_mm", "location"})
"""Columns of layout.csv that a new table does without; they may be added."""

PACK_FROM_SLAB_MM = 2500.0
"""Middle of the packs before the south edge of the slab: half a frame and a metre to walk; no source."""


@dataclass(frozen=True, slots=True)
class StarterPack:
    """A pack and where its centre lies."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class Start:
    """What a new job begins with."""

    name: str
    outline: Sequence[Point]
    people: int
    packs: Sequence[StarterPack]
    gaps: Sequence[tuple[str, str]] = ()


def pack_names(count: int) -> tuple[str, ...]:
    """Return names for packs: A to Z, or P1, P2 and so on where there are more."""
    letters = tuple("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return letters[:count] if count <= len(letters) else tuple(f"P{number}" for number in range(1, count + 1))


def rectangle_outline(length_mm: float, width_mm: float) -> tuple[Point, ...]:
    """Return a rectangle from the origin, `length_mm` from west to east, `width_mm` from south to north."""
    return ((0.0, 0.0), (length_mm, 0.0), (length_mm, width_mm), (0.0, width_mm))


def packs_along_south(outline: Sequence[Point], count: int, apart_mm: float = 0.0) -> tuple[StarterPack, ...]:
    """Return packs spread evenly before the south edge of a slab, or further apart where they need it."""
    left, right = min(x for x, _ in outline), max(x for x, _ in outline)
    y = min(y for _, y in outline) - PACK_FROM_SLAB_MM
    step_mm = max((right - left) / count, apart_mm)
    return tuple(
        StarterPack(name, (round(left + step_mm * (place + 0.5)), round(y)))
        for place, name in enumerate(pack_names(count))
    )


def site_text(start: Start) -> str:
    """Return site.toml with a comment on whatever is to be looked at."""
    return "\n".join(_site_lines(start)) + "\n"


def _site_lines(start: Start) -> Iterator[str]:
    yield "# What the lines mean, and what else may be said: docs/files.md. Millimetres; x east, y north."
    yield "format = 1"
    yield f"name = {json.dumps(start.name, ensure_ascii=False)}"
    yield ""
    yield "[slab]"
    yield "# The corners of the slab in order. A slab that is no rectangle has more of them."
    yield "outline_mm = ["
    for point in start.outline:
        yield f"    {_point(point)},"
    yield "]"
    yield ""
    yield "[stand]"
    yield 'reference = "auto"       # the wall to start from: the longest, or a list of its frames'
    yield 'lap = "one-way"          # how the outside walls are stood: one-way, both-ways or free'
    yield 'direction = "auto"       # auto, clockwise or anticlockwise'
    yield "hold_open = 1            # outside frames that may be left out until the inside ones are in"
    yield ""
    yield "[crew]"
    yield f"people = {start.people}"
    yield "share_kg = 25            # the most that one person takes of a frame"
    yield ""
    yield "# Where each pack is landed: the centre of it, and the direction of its long side."
    for pack in start.packs:
        yield "[[pack]]"
        yield f"name = {json.dumps(pack.name, ensure_ascii=False)}"
        yield f"at_mm = {_point(pack.at)}"
        yield "bearing_deg = 0"
        yield ""
    for first, second in start.gaps:
        yield "[[gap]]                  # between two outside frames that do not touch"
        yield f"between = [{json.dumps(first, ensure_ascii=False)}, {json.dumps(second, ensure_ascii=False)}]"
        yield ""
    yield "# Places where frames may wait. Without any, the plan proposes its own."
    yield "# [[spot]]"
    yield '# name = "S1"'
    yield "# at_mm = [3000, 4000]"
    yield "# size_mm = [5400, 2700]"
    yield '# kind = "pile"           # pile or lean'
    yield "# holds = 5"


def blank_grids(*, by_coordinates: bool) -> tuple[Grid, ...]:
    """Return the tables of a new job, headers alone."""
    house = (
        Grid(FRAMES, FRAMES_SHAPE.columns, ())
        if by_coordinates
        else Grid(LAYOUT, tuple(column for column in LAYOUT_COLUMNS if column not in _SELDOM), ())
    )
    return (
        house,
        Grid(OPENINGS, OPENINGS_SHAPE.columns, ()),
        Grid(PACKS, PACKS_SHAPE.columns, ()),
    )


def _point(point: Point) -> str:
    return f"[{written(point[0])}, {written(point[1])}]"
