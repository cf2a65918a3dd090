"""Frames that miss each other or lie on one another by little, and the length that would put it right."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.house.shapes import ONE_LINE_MM, along_mm, angle_between_deg, left_of_mm
from packseq.scenario.limits import LEAST_FRAME_MM, MOST_FRAME_MM
from packseq.scenario.model import Frame

_MOST_MM = 600.0
"""A wider miss is no slip in a length: an opening that wide lets people through (docs/rules.md, way-in)."""

_LEAST_TURN_DEG = 10.0
"""Frames nearer to one direction than this meet end to end, if at all."""

_SQUARE_DEG = 0.5
"""A frame can be flush with another's far face only where the corner is square, to this."""

_NOISE_MM = 0.5


@dataclass(frozen=True, slots=True)
class Miss:
    """A frame that would just meet another if it were `length_mm` long, its other end staying where it is.

    `end` is the end that would move, 1 or 2, and `at` where it would come to lie.
    """

    frame: Frame
    other: Frame
    end: int
    at: Point
    length_mm: float

    @property
    def by_mm(self) -> float:
        """How much too short the frame is in mm; below 0 where it is too long."""
        return self.length_mm - self.frame.length_mm

    @property
    def by_coordinates(self) -> bool:
        """Whether whoever entered the frame gave its ends by coordinates."""
        return "layout" not in self.frame.file

    @property
    def question(self) -> str:
        """The likely slip: "is E7 3,900 rather than 3,760?", with the coordinate where there is one."""
        rather = f"{self.length_mm:,.0f} rather than {self.frame.length_mm:,.0f}"
        return f"is {self.frame.name} {rather}{self._cells()}?"

    def _cells(self) -> str:
        if not self.by_coordinates:
            return ""
        lies = self.frame.start if self.end == 1 else self.frame.end
        changed = [
            f"{axis}{self.end}_mm {right:.0f}"
            for axis, right, now in zip("xy", self.at, lies, strict=True)
            if abs(right - now) > _NOISE_MM
        ]
        return f" ({', '.join(changed)})"


def likely_misses(first: Frame, second: Frame) -> tuple[Miss, ...]:
    """Return the lengths, of either of two frames, with which they would just meet; the nearest first.

    Nothing comes back for frames that already meet so, or that no other length up to 600 mm off
    would bring together.
    """
    found = [miss for frame, other in ((first, second), (second, first)) for miss in misses_of(frame, other)]
    return tuple(sorted(found, key=lambda miss: (abs(miss.by_mm), miss.frame.name, miss.end)))


def miss_text(first: Frame, second: Frame) -> str | None:
    """Return by how much two frames miss each other and which lengths may be wrong, or None.

    For example: "E7 and E8 miss each other by 140 mm; is E7 3,900 rather than 3,760?".
    """
    found = likely_misses(first, second)
    if not found:
        return None
    nearest = [miss for miss in found if abs(miss.by_mm) - abs(found[0].by_mm) < _NOISE_MM]
    by_mm = abs(found[0].by_mm)
    return f"{first.name} and {second.name} miss each other by {by_mm:,.0f} mm; {questions(nearest)}"


def questions(misses: Sequence[Miss]) -> str:
    """Return the slips that are likely as one sentence or two."""
    return " Or ".join(miss.question for miss in misses)


def misses_of(frame: Frame, other: Frame) -> Iterator[Miss]:
    """Yield for each end of a frame the length with which that end would just meet another frame."""
    (x1, y1), (x2, y2) = frame.start, frame.end
    along = ((x2 - x1) / frame.length_mm, (y2 - y1) / frame.length_mm)
    for end, point, onward in ((1, frame.start, (-along[0], -along[1])), (2, frame.end, along)):
        by_mm = _short_mm(frame, point, onward, other)
        if by_mm is None or not ONE_LINE_MM < abs(by_mm) <= _MOST_MM:
            continue
        length_mm = frame.length_mm + by_mm
        if LEAST_FRAME_MM <= length_mm <= MOST_FRAME_MM:
            at = (point[0] + by_mm * onward[0], point[1] + by_mm * onward[1])
            yield Miss(frame, other, end, at, length_mm)


def _short_mm(frame: Frame, end: Point, onward: Point, other: Frame) -> float | None:
    """Return how much further an end must go to just meet another frame, below 0 for back; None if never.

    Frames in one line meet end to end. Else it meets the other's near face, or at a square corner,
    where the other one butts against it, comes flush with the far face.
    """
    turn_deg = angle_between_deg(frame, other)
    ahead = (end[0] + onward[0], end[1] + onward[1])
    if turn_deg < _LEAST_TURN_DEG:
        out_mm = max(abs(left_of_mm(point, end, ahead)) for point in (other.start, other.end))
        if out_mm > min(frame.thickness_mm, other.thickness_mm) / 2:
            return None
        return min(_dot(point, end, onward) for point in (other.start, other.end))
    sine, cosine = math.sin(math.radians(turn_deg)), math.cos(math.radians(turn_deg))
    here, there = (left_of_mm(point, other.start, other.end) for point in (end, ahead))
    to_line_mm = here / (here - there)
    crossing = (end[0] + to_line_mm * onward[0], end[1] + to_line_mm * onward[1])
    place_mm = along_mm(other, crossing)
    past_mm = max(-place_mm, place_mm - other.length_mm)
    half_mm = other.thickness_mm / 2
    if past_mm <= 0:
        return to_line_mm - (half_mm + frame.thickness_mm / 2 * cosine) / sine
    corner = past_mm <= frame.thickness_mm / 2 + ONE_LINE_MM and abs(turn_deg - 90.0) < _SQUARE_DEG
    return to_line_mm + half_mm if corner else None


def _dot(point: Point, origin: Point, onward: Point) -> float:
    return (point[0] - origin[0]) * onward[0] + (point[1] - origin[1]) * onward[1]
