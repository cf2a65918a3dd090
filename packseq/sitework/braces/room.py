"""What lies beside a frame where a brace would come down, and how steep the brace must then be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from packseq.geometry import Point, strip
from packseq.scenario.model import Frame
from packseq.sitework.braces.choices import BraceChoices

Kind = Literal["standing", "to come", "lying", "no-go", "edge"]

BRACE_MM = 100.0
"""Width kept free for a brace on the plan, and height kept free where two cross."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something on the plan that a brace must stay clear of, and what it is called."""

    kind: Kind
    name: str
    shape: BaseGeometry


@dataclass(frozen=True, slots=True)
class Way:
    """One way to brace a place of a frame: from its face down to a foot.

    Parameters
    ----------
    at_mm
        Place along the frame, from end 1.
    left
        Whether it comes down left of the way from end 1 to end 2.
    top_mm
        Height of its upper end: the frame's own, or less where there is little room.
    angle_deg
        With the floor: as wanted, or as steep as the room makes it.
    face, foot
        Its two ends on the plan, in mm.
    crosses
        Frames still to come whose lines it lies over.
    """

    at_mm: float
    left: bool
    top_mm: float
    angle_deg: float
    face: Point
    foot: Point
    crosses: tuple[str, ...] = ()

    @property
    def reach_mm(self) -> float:
        """How far from the face its foot is: height over tan(angle)."""
        return math.dist(self.face, self.foot)

    @property
    def length_mm(self) -> float:
        """Length: height over sin(angle), 1.414 x height at 45 degrees."""
        return self.top_mm / math.sin(math.radians(self.angle_deg))

    @property
    def ground(self) -> Polygon:
        """The ground under it."""
        return Polygon(strip(self.face, self.foot, BRACE_MM))

    def collides(self, other: Way) -> bool:
        """Tell whether two braces on one level would meet: they cross on the plan at nearly one height."""
        if not self._near(other):
            return False
        shared = self.ground.intersection(other.ground)
        if shared.is_empty:
            return False
        heights = [
            each.top_mm * (1 - Dot(each.face).distance(shared.centroid) / each.reach_mm)
            for each in (self, other)
        ]
        return abs(heights[0] - heights[1]) < BRACE_MM

    def _near(self, other: Way) -> bool:
        """Tell whether the ground under both can meet at all, by what they reach along x and y."""
        return all(
            min(self.face[axis], self.foot[axis]) - BRACE_MM <= max(other.face[axis], other.foot[axis])
            and min(other.face[axis], other.foot[axis]) - BRACE_MM <= max(self.face[axis], self.foot[axis])
            for axis in (0, 1)
        )


def steepness(height_mm: float, room_mm: float, choices: BraceChoices) -> tuple[float, float] | None:
    """Return the angle of a brace in degrees and the height of its upper end; None: too little room.

    As wanted where there is room; else atan(height / room); where that is steeper than the steepest, at
    the steepest and from lower down the frame: room x tan(steepest), but no lower than `least_top` of it.
    """
    if room_mm >= height_mm / math.tan(math.radians(choices.angle_deg)):
        return choices.angle_deg, height_mm
    angle = math.degrees(math.atan2(height_mm, room_mm))
    if angle <= choices.steepest_deg:
        return angle, height_mm
    top_mm = room_mm * math.tan(math.radians(choices.steepest_deg))
    return (choices.steepest_deg, top_mm) if top_mm >= choices.least_top * height_mm else None


def ways(
    frame: Frame, places: Iterable[float], obstacles: Sequence[Obstacle], choices: BraceChoices
) -> Iterator[Way]:
    """Yield each way to brace a frame at any of these places, on either side.

    Frames to come do not take from the room: a way that lies over their lines says so.
    """
    full_mm = furthest_mm(frame, choices)
    for at_mm in places:
        for left in (True, False):
            near, far = _out(frame, at_mm, full_mm, left=left)
            path = Polygon(strip(near, far, BRACE_MM))
            free = [(_free_mm(path, near, each, full_mm), each) for each in obstacles]
            room_mm = min((mm for mm, each in free if each.kind != "to come"), default=full_mm)
            steep = steepness(frame.height_mm, room_mm, choices)
            if steep is not None:
                angle, top_mm = steep
                reach_mm = top_mm / math.tan(math.radians(angle))
                _, foot = _out(frame, at_mm, reach_mm, left=left)
                crosses = (each.name for mm, each in free if each.kind == "to come" and mm < reach_mm)
                yield Way(at_mm, left, top_mm, angle, near, foot, tuple(sorted(set(crosses))))


def in_the_way(
    frame: Frame, at_mm: float, obstacles: Sequence[Obstacle], choices: BraceChoices
) -> tuple[str, ...]:
    """Return what leaves too little room for a brace at a place, the nearest thing on each side."""
    full_mm = furthest_mm(frame, choices)
    found = set()
    for left in (True, False):
        near, far = _out(frame, at_mm, full_mm, left=left)
        path = Polygon(strip(near, far, BRACE_MM))
        free = [
            (_free_mm(path, near, each, full_mm), each.name) for each in obstacles if each.kind != "to come"
        ]
        found |= {name for mm, name in [min(free, default=(full_mm, ""))] if mm < full_mm}
    return tuple(sorted(found))


def facing(
    frame: Frame, at_mm: float, standing: Iterable[Frame], most_mm: float
) -> tuple[Frame, float] | None:
    """Return the nearest standing frame as high, square across from a place on either side, and the gap.

    None where there is none within `most_mm`, or where it stands too close to need a tie.
    """
    found = []
    for left in (True, False):
        near, far = _out(frame, at_mm, most_mm, left=left)
        line = LineString((near, far))
        for other in standing:
            shared = line.intersection(Polygon(other.footprint))
            if not shared.is_empty and abs(other.height_mm - frame.height_mm) <= BRACE_MM:
                found.append((Dot(near).distance(shared), other.name, other))
    distance, _, other = min(found, default=(0.0, "", frame))
    return (other, distance) if distance > BRACE_MM else None


def furthest_mm(frame: Frame, choices: BraceChoices) -> float:
    """Return how far from a frame the foot of a brace comes down at the wanted angle."""
    return frame.height_mm / math.tan(math.radians(choices.angle_deg))


def _out(frame: Frame, at_mm: float, distance: float, *, left: bool) -> tuple[Point, Point]:
    """Return the point of a frame's face at a place, and the point square out from it."""
    (x1, y1), (x2, y2) = frame.start, frame.end
    along = ((x2 - x1) / frame.length_mm, (y2 - y1) / frame.length_mm)
    out = (-along[1], along[0]) if left else (along[1], -along[0])
    half = frame.thickness_mm / 2
    face = (x1 + along[0] * at_mm + out[0] * half, y1 + along[1] * at_mm + out[1] * half)
    return face, (face[0] + out[0] * distance, face[1] + out[1] * distance)


def _free_mm(path: Polygon, face: Point, obstacle: Obstacle, full_mm: float) -> float:
    """Return how far the path is clear of an obstacle, from the face."""
    shared = path.intersection(obstacle.shape)
    return full_mm if shared.is_empty else float(Dot(face).distance(shared))
