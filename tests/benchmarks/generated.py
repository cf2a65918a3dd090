"""Invented houses of any size: rooms split off a rectangle, packs as a plant loads them."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from packseq.geometry import Point
from packseq.scenario.model import Crew, Frame, Opening, Pack, Place, Scenario, Spot, StandChoices

THICKNESS = 90.0
HEIGHT = 2400.0
LONGEST = 4800.0
Line = tuple[Point, Point]
Room = tuple[float, float, float, float]


def _pieces(start: Point, end: Point) -> list[Line]:
    count = max(1, math.ceil(math.dist(start, end) / LONGEST))
    marks = [
        (
            float(round(start[0] + (end[0] - start[0]) * part / count)),
            float(round(start[1] + (end[1] - start[1]) * part / count)),
        )
        for part in range(count + 1)
    ]
    return list(pairwise(marks))


def _split(room: Room, dice: random.Random) -> tuple[Line, Room, Room]:
    west, south, east, north = room
    if east - west >= north - south:
        at = float(round(west + (east - west) * dice.uniform(0.35, 0.65)))
        return (
            ((at, south), (at, north)),
            (west, south, at - THICKNESS / 2, north),
            (at + THICKNESS / 2, south, east, north),
        )
    at = float(round(south + (north - south) * dice.uniform(0.35, 0.65)))
    return (
        ((west, at), (east, at)),
        (west, south, east, at - THICKNESS / 2),
        (west, at + THICKNESS / 2, east, north),
    )


def _lines(frames: int, length: float, depth: float, dice: random.Random) -> Iterator[tuple[str, Line]]:
    half = THICKNESS / 2
    made = 0
    for start, end in (
        ((0.0, half), (length, half)),
        ((length - half, THICKNESS), (length - half, depth - THICKNESS)),
        ((length, depth - half), (0.0, depth - half)),
        ((half, depth - THICKNESS), (half, THICKNESS)),
    ):
        for piece in _pieces(start, end):
            made += 1
            yield "external", piece
    rooms: list[Room] = [(THICKNESS, THICKNESS, length - THICKNESS, depth - THICKNESS)]
    while made < frames:
        rooms.sort(key=lambda room: (room[2] - room[0]) * (room[3] - room[1]))
        wall, first, second = _split(rooms.pop(), dice)
        rooms += [first, second]
        for piece in _pieces(*wall):
            made += 1
            yield "internal", piece


def _openings(location: str, length: float) -> tuple[Opening, ...]:
    """Return what is open in the middle of a frame.

    Rooms need doors. A sliding door in each long external frame lets frames in once the perimeter is shut,
    as they are carried: on edge, leant over.
    """
    wide, high = (2400.0, 2100.0) if location == "external" else (820.0, 2040.0)
    return (Opening("door", round((length - wide) / 2), wide, 0.0, high),) if length >= wide + 600 else ()


def generated_scenario(
    frames: int, *, seed: int = 0, packs: int = 3, shuffle: float = 0.2, choices: StandChoices | None = None
) -> Scenario:
    """Return an invented house of about `frames` frames in `packs` packs.

    Packs are filled in drawing order and laid up with the longest frames at the bottom;
    `shuffle` is the share of a pack's frames that then changes places.
    """
    dice = random.Random(seed)
    depth = float(round(3200 * math.sqrt(frames / 10)))
    length = float(round(depth * 1.6))
    made: dict[str, Frame] = {}
    for number, (location, (start, end)) in enumerate(_lines(frames, length, depth, dice), start=1):
        name = f"{'E' if location == 'external' else 'N'}{number}"
        made[name] = Frame(
            name=name,
            level=1,
            start=start,
            end=end,
            height_mm=HEIGHT,
            thickness_mm=THICKNESS,
            location="external" if location == "external" else "internal",
            mass_kg=round(15 * math.dist(start, end) / 1000, 1),
            mass_is_estimate=False,
            openings=_openings(location, math.dist(start, end)),
            row=number + 1,
        )
    names = list(made)
    delivered: dict[str, Pack] = {}
    share = math.ceil(len(names) / packs)
    for number in range(packs):
        inside = sorted(names[number * share : (number + 1) * share], key=lambda name: made[name].length_mm)
        for _ in range(round(len(inside) * shuffle)):
            one, other = dice.randrange(len(inside)), dice.randrange(len(inside))
            inside[one], inside[other] = inside[other], inside[one]
        name = chr(ord("A") + number)
        x = length * (number // 2 + 1) / (packs // 2 + 2)
        y = -3000.0 if number % 2 == 0 else depth + 3000.0
        delivered[name] = Pack(
            name=name,
            level=1,
            places=(Place((float(round(x)), y), 0.0),),
            holds=0,
            layers=tuple((frame,) for frame in inside),
            layer_numbers=tuple(range(1, len(inside) + 1)),
            length_mm=max(made[frame].length_mm for frame in inside),
            width_mm=HEIGHT,
        )
    corners: tuple[tuple[str, float, float, Literal["pile", "lean"]], ...] = (
        ("S1", 0.25, -6000.0, "pile"),
        ("S2", 0.75, -6000.0, "lean"),
        ("S3", 0.25, depth + 6000.0, "lean"),
        ("S4", 0.75, depth + 6000.0, "pile"),
    )
    spots = {
        name: Spot(name, 1, (float(round(length * x)), y), 0.0, (6000.0, 2700.0), kind, frames)
        for name, x, y, kind in corners
    }
    return Scenario(
        name=f"generated {len(made)}",
        slab=((0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth)),
        frames=made,
        packs=delivered,
        crew=Crew(people=4),
        spots=spots,
        stand=choices or StandChoices(),
        sha256="0" * 64,
    )
