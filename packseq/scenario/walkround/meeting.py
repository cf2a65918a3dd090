"""Where a frame begins and ends that meets others: round a corner, off a side, up to a side."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from packseq.geometry import Point
from packseq.scenario.walkround.headings import unit
from packseq.scenario.walkround.rows import End, Through

_SQUARE = 1e-6
"""Cosine of the angle below which a corner is square: a heading written to four decimals of a degree."""

_ALONG = 0.1
"""Sine of the angle (about 6 degrees) below which one frame goes along another, not off its side."""

_CLEARLY = 0.35
"""Cosine of the angle (about 70 degrees) past which an end no longer lies to that side of the compass."""

_PLACES = 6
"""Decimals of a mm that are kept: enough for any bearing, and free of the noise of adding up."""

_COMPASS_DEG = {"e": 0.0, "n": 90.0, "w": 180.0, "s": 270.0}


class MeetingError(Exception):
    """Frames that cannot meet as the row says: why, and in which column."""

    def __init__(self, text: str, column: str) -> None:
        super().__init__(text)
        self.text = text
        self.column = column


@dataclass(frozen=True)
class Bar:
    """A frame on the plan: its centre line from `start`, the way it goes, its length and thickness in mm."""

    name: str
    start: Point
    heading_deg: float
    length_mm: float
    thickness_mm: float

    @cached_property
    def along(self) -> Point:
        """The vector one mm long from start to finish."""
        return unit(self.heading_deg)

    @cached_property
    def finish(self) -> Point:
        """The other end of the centre line."""
        return moved(self.start, (self.length_mm, self.along))


def moved(point: Point, *steps: tuple[float, Point]) -> Point:
    """Return a point moved by so many mm along each of several vectors."""
    x = point[0] + sum(distance * along[0] for distance, along in steps)
    y = point[1] + sum(distance * along[1] for distance, along in steps)
    return (round(x, _PLACES), round(y, _PLACES))


def turn_deg(before_deg: float, after_deg: float) -> float:
    """Return the turn from one direction to another: left positive, in (-180, 180]."""
    turn = (after_deg - before_deg) % 360.0
    return turn - 360.0 if turn > 180.0 else turn  # noqa: PLR2004 (half a turn)


def is_square(before_deg: float, after_deg: float) -> bool:
    """Tell whether two directions make a square corner."""
    return abs(_dot(unit(before_deg), unit(after_deg))) < _SQUARE


def round_corner(
    corner: Point, before: tuple[float, float], after: tuple[float, float], through: Through | None
) -> Point:
    """Return where the centre line begins of a frame that carries on from the end of another.

    In line it begins where the other ends. At a square corner one of the two runs through, flush
    with the other's far face, and the other butts against its side. At a corner that is not
    square the frames' inner edges meet.

    Parameters
    ----------
    corner
        End of the centre line that it carries on from.
    before, after
        Direction in which that end is reached, and that of the new frame, in degrees, each with the
        frame's thickness in mm.
    through
        Which of the two runs through at a square corner.
    """
    along, onward = unit(before[0]), unit(after[0])
    turn = turn_deg(before[0], after[0])
    if abs(turn) < math.degrees(_SQUARE):
        return corner
    if is_square(before[0], after[0]):
        if through is None:
            raise MeetingError(
                "which frame runs through at this corner? Write east-west, north-south, this or last; "
                "it holds for the rows below until another is given",
                "through",
            )
        sign = -1 if _last_runs_through(along, through) else 1
        return moved(corner, (sign * after[1] / 2, along), (-sign * before[1] / 2, onward))
    inner = 1 if turn > 0 else -1
    return moved(corner, (inner * before[1] / 2, _left(along)), (-inner * after[1] / 2, _left(onward)))


def off_side(base: Bar, at_mm: float, end: End, heading_deg: float, thickness_mm: float) -> Point:
    """Return where the centre line begins of a frame that starts off another's side.

    `at_mm` runs along the other frame from the `end` named to the new frame's near edge.
    """
    onward = unit(heading_deg)
    out = _left(base.along)
    if _dot(out, onward) < 0:
        out = (-out[0], -out[1])
    sideways = _dot(out, onward)
    if sideways < _ALONG:
        raise MeetingError(
            f"goes along {base.name}, not off its side; leave at_mm blank to carry on from its end",
            "heading",
        )
    if not -thickness_mm < at_mm < base.length_mm:
        raise MeetingError(f"{base.name} is {_mm(base.length_mm)} long", "at_mm")
    from_finish = _dot(base.along, _towards(base, end, onward)) > 0
    begins, inward = (base.finish, -1) if from_finish else (base.start, 1)
    along_mm = inward * (at_mm + thickness_mm / 2 * sideways)
    out_mm = base.thickness_mm / 2 + thickness_mm / 2 * abs(_dot(base.along, onward))
    return moved(begins, (along_mm, base.along), (out_mm, out))


def reach_mm(start: Point, heading_deg: float, thickness_mm: float, target: Bar) -> float:
    """Return how long a frame must be to reach from `start` to another's side, or to its end in line."""
    onward = unit(heading_deg)
    out = _left(target.along)
    to_target = (target.start[0] - start[0], target.start[1] - start[1])
    if _dot(to_target, out) < 0:
        out = (-out[0], -out[1])
    facing = _dot(out, onward)
    never = MeetingError(f"never meets {target.name} that way", "to")
    if abs(facing) < _ALONG:
        ahead = [
            _dot((end[0] - start[0], end[1] - start[1]), onward) for end in (target.start, target.finish)
        ]
        if min(ahead) <= 0 or abs(_dot(to_target, out)) > target.thickness_mm / 2:
            raise never
        return round(min(ahead), _PLACES)
    short_mm = target.thickness_mm / 2 + thickness_mm / 2 * abs(_dot(target.along, onward))
    length_mm = (_dot(to_target, out) - short_mm) / facing
    if facing < 0 or length_mm <= 0:
        raise never
    meets = moved(start, (length_mm, onward))
    place_mm = _dot((meets[0] - target.start[0], meets[1] - target.start[1]), target.along)
    past_mm = max(-place_mm, place_mm - target.length_mm)
    if past_mm >= thickness_mm / 2:
        raise MeetingError(f"passes the end of {target.name}, {_mm(past_mm)} clear of it", "to")
    return round(length_mm, _PLACES)


def chosen_end(base: Bar, end: End | None, onward_deg: float) -> tuple[Point, float]:
    """Return the end of a frame from which another carries on, and the direction in which it is reached."""
    onward = unit(onward_deg)
    if end is None or _dot(base.along, _towards(base, end, onward)) > 0:
        return base.finish, base.heading_deg
    return base.start, (base.heading_deg + 180.0) % 360.0


def _towards(base: Bar, end: End, onward: Point) -> Point:
    """Return the direction along which the end that is meant lies."""
    if end in ("start", "finish"):
        sign = 1 if end == "finish" else -1
        return (sign * base.along[0], sign * base.along[1])
    side = _left(onward)
    if end == "right":
        side = (-side[0], -side[1])
    elif end in _COMPASS_DEG:
        side = unit(_COMPASS_DEG[end])
    if abs(_dot(base.along, side)) < _CLEARLY:
        word = {"n": "north", "e": "east", "s": "south", "w": "west"}.get(end, end)
        raise MeetingError(f"{base.name} has no {word} end; name the side on which the end lies", "end")
    return side


def _last_runs_through(along: Point, through: Through) -> bool:
    if through in ("this", "last"):
        return through == "last"
    return (abs(along[0]) >= abs(along[1])) == (through == "east-west")


def _left(along: Point) -> Point:
    return (-along[1], along[0])


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1]


def _mm(length_mm: float) -> str:
    return f"{length_mm:,.0f} mm"
