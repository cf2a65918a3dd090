"""Random orthogonal room plans whose perimeter is known from the way they are built.

A plan is a row of columns of 3 m cells, each column overlapping the one before it, so the
outline is one ring with no holes. Walls are laid along its edges; every edge is cut into
frames; partitions stand in the middle of some columns, from outer wall to outer wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from shapely import Polygon, box, unary_union
from shapely.geometry.polygon import orient
from sketch import THICKNESS, frame

from packseq.geometry import Point
from packseq.scenario.model import Frame

CELL = 3000.0
Column = tuple[int, int]


@dataclass(frozen=True)
class Plan:
    """The frames, the perimeter anticlockwise, and the names along each straight wall."""

    frames: tuple[Frame, ...]
    perimeter: tuple[str, ...]
    walls: tuple[tuple[str, ...], ...]


def outline(rows: list[Column]) -> list[Point]:
    """Corners of the plan, anticlockwise."""
    shape = unary_union(
        [
            box(place * CELL, bottom * CELL, (place + 1) * CELL, top * CELL)
            for place, (bottom, top) in enumerate(rows)
        ]
    )
    assert isinstance(shape, Polygon)
    ring = [(float(x), float(y)) for x, y in orient(shape).exterior.coords[:-1]]
    return [
        corner
        for before, corner, after in zip([ring[-1], *ring], ring, [*ring[1:], ring[0]], strict=False)
        if _turn(before, corner, after) != 0
    ]


def build(rows: list[Column], partitioned: set[int], seed: int) -> Plan:
    """Lay the walls, cut them into frames, name, turn and shuffle them."""
    dice = Random(seed)
    corners = outline(rows)
    labels = [f"F{number}" for number in range(1, 400)]
    dice.shuffle(labels)
    frames: list[Frame] = []
    perimeter: list[str] = []
    walls: list[tuple[str, ...]] = []
    count = len(corners)
    for place, start in enumerate(corners):
        end = corners[(place + 1) % count]
        before, after = corners[place - 1], corners[(place + 2) % count]
        along = (math.copysign(1.0, end[0] - start[0]) if end[0] != start[0] else 0.0,
                 math.copysign(1.0, end[1] - start[1]) if end[1] != start[1] else 0.0)  # fmt: skip
        # An outer corner: the wall before runs through, this one starts clear of it. An inner
        # corner: the wall before runs on by a thickness, and this one starts against its side.
        clear = THICKNESS if _turn(before, start, end) > 0 else 0.0
        run_on = THICKNESS if _turn(start, end, after) < 0 else 0.0
        length = math.dist(start, end) - clear + run_on
        cuts = [0.0, *sorted(_cuts(length, dice)), length]
        names = []
        for low, high in pairwise(cuts):
            ends = [
                (
                    start[0] + along[0] * (clear + at) - along[1] * THICKNESS / 2,
                    start[1] + along[1] * (clear + at) + along[0] * THICKNESS / 2,
                )
                for at in (low, high)
            ]
            dice.shuffle(ends)
            names.append(labels.pop())
            frames.append(frame(names[-1], (*ends[0], *ends[1])))
        perimeter += names
        walls.append(tuple(names))
    for place in sorted(partitioned & set(range(len(rows)))):
        bottom, top = rows[place]
        x = (place + 0.5) * CELL
        frames.append(frame(labels.pop(), (x, bottom * CELL + THICKNESS, x, top * CELL - THICKNESS)))
    dice.shuffle(frames)
    return Plan(tuple(frames), tuple(perimeter), tuple(walls))


def _cuts(length: float, dice: Random) -> list[float]:
    """Places at least 600 mm from each other and from either end."""
    places = range(600, int(length) - 599, 600)
    return [float(place) for place in dice.sample(places, k=min(len(places), dice.randint(0, 2)))]


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Above 0 for a turn to the left."""
    return (corner[0] - before[0]) * (after[1] - corner[1]) - (corner[1] - before[1]) * (after[0] - corner[0])
