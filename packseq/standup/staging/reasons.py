"""Why a proposed spot is where it is, in words for the people on site."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import shapely
from shapely import Polygon

from packseq.geometry import Point
from packseq.house.model import House
from packseq.scenario.model import Frame, Place, Spot
from packseq.standup.staging.ground import level_ground


def why_there(house: House, places: Mapping[str, Place], spot: Spot, waiting: Sequence[str]) -> str:
    """Return where a spot lies and how far that is from the lines of the frames that wait there."""
    where, frames = _where(house, places, spot), house.scenario.frames
    far = [math.dist(spot.at, frames[name].middle) for name in waiting]
    match far:
        case []:
            return where
        case [only]:
            return f"{where}, {_metres(only)} from where {waiting[0]} stands"
        case _:
            return (
                f"{where}, {_metres(sum(far) / len(far))} on average from where its {len(far)} frames stand"
            )


def _where(house: House, places: Mapping[str, Place], spot: Spot) -> str:
    if spot.against:
        once = "it stands and is braced" if len(spot.against) == 1 else "they stand and are braced"
        return f"leaning on {_and(spot.against)} once {once}"
    level = next(each for each in house.levels if each.level == spot.level)
    ground = level_ground(house, level, places)
    shape = Polygon(spot.footprint)
    here = [frame for frame in house.scenario.frames.values() if frame.level == spot.level]
    room = next((room for room in ground.rooms if room.intersects(shape)), None)
    if room is not None:
        walls = [
            frame
            for frame in here
            if Polygon(frame.footprint).distance(room) < 2 * house.scenario.join_gap_mm
        ]
        return f"in the room between {_and(_facing(spot.at, walls))}"
    beside = min(
        (pack for pack in house.scenario.packs.values() if pack.level == spot.level),
        key=lambda pack: (shapely.distance(Polygon(pack.footprint(places[pack.name])), shape), pack.name),
    )
    near = shapely.distance(Polygon(beside.footprint(places[beside.name])), shape)
    wall = min(here, key=lambda frame: (Polygon(frame.footprint).distance(shape), frame.name))
    if near <= Polygon(wall.footprint).distance(shape):
        return f"outside, {_metres(near)} from pack {beside.name}"
    return f"outside by {wall.name}, {_metres(Polygon(wall.footprint).distance(shape))} off the wall"


def _facing(at: Point, walls: Sequence[Frame]) -> tuple[str, ...]:
    """Return the nearest wall and the nearest of those on the other side of a point."""

    def toward(frame: Frame) -> tuple[float, float]:
        near = shapely.shortest_line(shapely.Point(at), Polygon(frame.footprint)).coords[1]
        return near[0] - at[0], near[1] - at[1]

    ranked = sorted(walls, key=lambda frame: (round(math.hypot(*toward(frame))), frame.name))
    first = toward(ranked[0])
    for frame in ranked[1:]:
        other = toward(frame)
        if first[0] * other[0] + first[1] * other[1] < -0.5 * math.hypot(*first) * math.hypot(*other):
            return ranked[0].name, frame.name
    return tuple(frame.name for frame in ranked[:2])


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _metres(length_mm: float) -> str:
    return f"{max(1, round(length_mm / 1000))} m"
