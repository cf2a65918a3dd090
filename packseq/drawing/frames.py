"""Frames on the floor plan: their footprints, their openings, and which side is outdoors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import dist

from shapely import Point as ShapelyPoint
from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from packseq.drawing.canvas import Bounds, View
from packseq.drawing.shapes import boxes_along
from packseq.drawing.svg import Pen, area, group, line
from packseq.geometry import Point, Ring, strip
from packseq.house.location import outside
from packseq.house.model import House
from packseq.scenario.model import Frame, Opening

EDGE = Pen(0.2)
PANE = Pen(0.15)
_END_MM = 1.0
_PROBE_MM = 60.0


@dataclass(frozen=True, slots=True)
class Side:
    """A unit vector on the ground across a frame, toward the side where its label belongs first."""

    x: float
    y: float


def frames_of(house: House, level: int) -> tuple[Frame, ...]:
    """Return the frames of a level in the order of frames.csv."""
    return tuple(frame for frame in house.scenario.frames.values() if frame.level == level)


def drawn_frame(frame: Frame, view: View) -> str:
    """Return a frame's footprint to scale, its ends ticked and its openings left out of it.

    The group has class ``frame`` and ``data-frame``, for a page that shows what stands.
    """
    parts = [area(view.ring(frame.footprint), EDGE, "#000", class_="wall")]
    parts += [_drawn_opening(frame, opening, view) for opening in frame.openings]
    parts += [line(_end(frame, at, view), EDGE) for at in (frame.start, frame.end)]
    return group(parts, class_="frame", data_frame=frame.name)


def frame_boxes(frame: Frame, view: View) -> tuple[Bounds, ...]:
    """Return boxes on paper that cover a frame, for labels to keep clear of."""
    ends = view.ring((frame.start, frame.end))
    return tuple(boxes_along(ends, frame.thickness_mm / view.one_to))


def label_sides(house: House, level: int) -> Mapping[str, Side]:
    """Return for each frame of a level the side for its label: outdoors for the perimeter, else north."""
    frames = frames_of(house, level)
    indoors = _indoors(house, frames)
    return {frame.name: _side(frame, indoors, house) for frame in frames}


def _indoors(house: House, frames: Sequence[Frame]) -> BaseGeometry:
    scenario = house.scenario
    bridges = [
        (scenario.frames[one], scenario.frames[other])
        for one, other in scenario.gaps
        if scenario.frames[one].level == frames[0].level
    ]
    rings = outside(frames, bridges, scenario.join_gap_mm)
    return unary_union([Polygon(ring) for ring in rings.geoms])


def _side(frame: Frame, indoors: BaseGeometry, house: House) -> Side:
    along = (
        (frame.end[0] - frame.start[0]) / frame.length_mm,
        (frame.end[1] - frame.start[1]) / frame.length_mm,
    )
    right = Side(along[1], -along[0])
    left = Side(-along[1], along[0])
    if house.locations[frame.name] == "internal":
        return max((left, right), key=lambda side: (round(side.y, 6), round(side.x, 6)))
    reach = frame.thickness_mm / 2 + _PROBE_MM
    probe = ShapelyPoint(frame.middle[0] + right.x * reach, frame.middle[1] + right.y * reach)
    return left if indoors.contains(probe) else right


def _drawn_opening(frame: Frame, opening: Opening, view: View) -> str:
    ring = opening_footprint(frame, opening)
    right_start, right_end, left_end, left_start = view.ring(ring)
    parts = [area((right_start, right_end, left_end, left_start), Pen(0), "#fff")]
    if opening.sill_mm > 0:
        parts += [line(side, PANE) for side in ((right_start, right_end), (left_start, left_end))]
        half = (_half(right_start, left_start), _half(right_end, left_end))
        parts.append(line(half, PANE))
    parts += [line(jamb, EDGE) for jamb in ((right_start, left_start), (right_end, left_end))]
    return group(parts, class_="opening")


def opening_footprint(frame: Frame, opening: Opening) -> Ring:
    """Return the corners of the part of a frame's footprint that an opening takes."""
    return strip(
        along(frame, opening.from_mm), along(frame, opening.from_mm + opening.width_mm), frame.thickness_mm
    )


def along(frame: Frame, from_mm: float) -> Point:
    """Return the point of a frame's centre line so far from its end 1."""
    share = from_mm / frame.length_mm
    return (
        frame.start[0] + (frame.end[0] - frame.start[0]) * share,
        frame.start[1] + (frame.end[1] - frame.start[1]) * share,
    )


def _end(frame: Frame, at: Point, view: View) -> tuple[Point, Point]:
    """Return a tick across a frame's end, sticking out a little on both sides."""
    start, end = view.ring((frame.start, frame.end))
    length = dist(start, end)
    reach = frame.thickness_mm / view.one_to / 2 + _END_MM
    across = ((end[1] - start[1]) / length * reach, (start[0] - end[0]) / length * reach)
    x, y = view.on(at)
    return (x - across[0], y - across[1]), (x + across[0], y + across[1])


def _half(one: Point, other: Point) -> Point:
    return ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
