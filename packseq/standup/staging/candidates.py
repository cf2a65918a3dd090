"""Where frames could wait: flat in rooms to be, flat outside, leaning on walls, beside their pack."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from packseq.geometry import Point
from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Frame, Pack, Place, Spot
from packseq.standup.staging.ground import AISLE_MM, BESIDE_MM, Ground, boxes

# Common practice, no source: how deep a lean is that frames are slid into, how far from a wall the foot of a
# leaning frame stands, and how many frames are laid in a pile or leant on a wall.
LEAN_WIDTH_MM = 1200.0
NARROW_LEAN_MM = 800.0
WALL_LEAN_MM = 600.0
MOST_IN_PILE = 8
MOST_ON_WALL = 5

_STEP_MM, _FINE_MM, _COARSE_MM = 500.0, 250.0, 1000.0
_OFF_FACE_MM = 10.0
"""Between a wall and the foot of what leans on it, so that nothing lies on the wall's own line."""
_LENGTHS = 3


def beside_packs(
    ground: Ground, packs: Sequence[Pack], frames: Mapping[str, Frame], places: Mapping[str, Place]
) -> list[Spot]:
    """Return a lean for each pack with room for all its frames, as near as the ground allows.

    With these there is room whatever must wait, so that no job lacks a plan for want of a good spot. Where
    there is no room for a whole lean, a narrower one is taken, for all frames but those of the lowest layer.
    """
    spots: list[Spot] = []
    free = ground.anywhere
    for pack in packs:
        best = _lean_for(ground, free, pack, frames, places[pack.name])
        if best is not None:
            spots.append(best)
            free = free.difference(room_round(best))
    return spots


def _lean_for(
    ground: Ground, free: BaseGeometry, pack: Pack, frames: Mapping[str, Frame], place: Place
) -> Spot | None:
    for lean, centres, near in _trials(ground, free, pack, frames, place):
        ranked = sorted(
            _covered(free, lean, centres), key=lambda spot: (round(math.dist(spot.at, near)), spot.at)
        )
        for spot in ranked:
            if ground.leaves_a_way(shapely.Polygon(spot.footprint)):
                return spot
    return None


def _trials(
    ground: Ground, free: BaseGeometry, pack: Pack, frames: Mapping[str, Frame], place: Place
) -> Iterator[tuple[Spot, NDArray[np.float64], Point]]:
    """Yield leans for the frames of a pack, where each may lie, and what it should be near to."""
    thickest = max(frames[name].thickness_mm for name in pack.frames)
    whole = max(LEAN_WIDTH_MM, math.ceil(len(pack.frames) * thickest))
    lean = Spot(
        "", pack.level, place.at, place.bearing_deg, (pack.length_mm, whole), "lean", len(pack.frames)
    )
    middle = ground.inside.centroid
    yield lean, np.array(list(_beside(pack, place, whole))), (middle.x, middle.y)
    above = [frames[name].length_mm for layer in pack.layers[:-1] for name in layer]
    for width, turn in product((whole, LEAN_WIDTH_MM, NARROW_LEAN_MM) if above else (), (0.0, 90.0)):
        bearing = (place.bearing_deg + turn) % 180.0
        size = (float(math.ceil(max(above))), width)
        holds = min(len(pack.frames), math.floor(width / thickest))
        narrower = replace(lean, bearing_deg=bearing, size_mm=size, holds=holds)
        yield narrower, _grid(free, bearing, _FINE_MM), place.at


def room_round(spot: Spot) -> shapely.Polygon:
    """Return the ground of a spot with room to work round it."""
    return shapely.Polygon(spot.footprint).buffer(BESIDE_MM, join_style="mitre")


def candidates(ground: Ground, house: House, level: LevelHouse, waiting: Sequence[Frame]) -> list[Spot]:
    """Return places for the frames that are likely to wait, without names, many more than are used."""
    sizes = _lengths(waiting)
    tallest = max(frame.height_mm for frame in waiting)
    reference = house.scenario.frames[level.reference[0]]
    found: list[Spot] = []
    for length, turn in product(sizes, (0.0, 90.0)):
        bearing = (reference.bearing_deg + turn) % 180.0
        pile = Spot("", level.level, (0.0, 0.0), bearing, (length, tallest), "pile", MOST_IN_PILE)
        found += _covered(ground.within, pile, _grid(ground.within, bearing))
        found += _covered(ground.without, pile, _grid(ground.without, bearing, _COARSE_MM))
        found += _on_walls(ground, house, level, length)
    return found


def _lengths(frames: Sequence[Frame]) -> list[float]:
    """Return a few lengths that between them suit the frames: the longest first."""
    every = sorted((frame.length_mm for frame in frames), reverse=True)
    steps = {round(place * (len(every) - 1) / _LENGTHS) for place in range(_LENGTHS)}
    return sorted({math.ceil(every[step]) for step in steps}, reverse=True)


def _grid(ground: BaseGeometry, bearing_deg: float, step_mm: float = _STEP_MM) -> NDArray[np.float64]:
    """Return points a step apart over some ground, in rows along a direction."""
    if ground.is_empty:
        return np.zeros((0, 2))
    turned = np.radians(bearing_deg)
    axes = np.array(((np.cos(turned), np.sin(turned)), (-np.sin(turned), np.cos(turned))))
    corners = shapely.get_coordinates(ground.envelope) @ axes.T
    low, high = corners.min(axis=0), corners.max(axis=0)
    steps = [np.arange(start, end + step_mm, step_mm) for start, end in zip(low, high, strict=True)]
    along, across = np.meshgrid(*steps)
    points: NDArray[np.float64] = np.column_stack((along.ravel(), across.ravel())) @ axes
    return np.rint(points)


def _covered(free: BaseGeometry, spot: Spot, centres: NDArray[np.float64]) -> list[Spot]:
    """Return a spot at each of the centres where it lies wholly on free ground."""
    if not len(centres):
        return []
    whole = shapely.covers(free, boxes(centres, spot.bearing_deg, *spot.size_mm))
    return [replace(spot, at=(float(x), float(y))) for x, y in centres[whole]]


def _on_walls(ground: Ground, house: House, level: LevelHouse, length: float) -> Iterator[Spot]:
    """Yield leans along both faces of the outer walls, with the frames they lean on."""
    frames = house.scenario.frames
    for run in house.runs:
        if run.level != level.level or run.location != "external" or run.length_mm < length:
            continue
        wall = [frames[name] for name in run.frames]
        start = np.array(wall[0].middle)
        angle = np.radians(wall[0].bearing_deg)
        along, across = np.array((np.cos(angle), np.sin(angle))), np.array((-np.sin(angle), np.cos(angle)))
        spans = [sorted((np.array((each.start, each.end)) - start) @ along) for each in wall]
        first, last = min(span[0] for span in spans), max(span[1] for span in spans)
        places = np.arange(first + length / 2, last - length / 2 + 1, _STEP_MM)
        off = max(each.thickness_mm for each in wall) / 2 + _OFF_FACE_MM + WALL_LEAN_MM / 2
        for side in (1, -1):
            centres = start + np.outer(places, along) + side * off * across
            lean = Spot(
                "",
                level.level,
                (0.0, 0.0),
                wall[0].bearing_deg % 180.0,
                (length, WALL_LEAN_MM),
                "lean",
                MOST_ON_WALL,
            )
            for spot in _covered(ground.along_walls, lean, np.rint(centres)):
                middle = float((np.array(spot.at) - start) @ along)
                yield replace(
                    spot,
                    against=tuple(
                        each.name
                        for each, span in zip(wall, spans, strict=True)
                        if span[0] < middle + length / 2 and middle - length / 2 < span[1]
                    ),
                )


def _beside(pack: Pack, place: Place, width: float) -> Iterator[Point]:
    """Yield centres alongside and at the ends of a pack, an aisle away and further."""
    angle = math.radians(place.bearing_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    for step in range(3):
        out = (pack.width_mm + width) / 2 + AISLE_MM + step * (width + AISLE_MM)
        end = (step + 1) * (pack.length_mm + AISLE_MM)
        for direction, far in ((across, out), (along, end)):
            for sign in (1, -1):
                yield (
                    float(round(place.at[0] + sign * far * direction[0])),
                    float(round(place.at[1] + sign * far * direction[1])),
                )
