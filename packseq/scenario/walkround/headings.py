"""Which way a frame goes: a compass letter, a bearing, or a turn from the frame before."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from packseq.geometry import Point

_COMPASS_DEG = {
    "e": 0.0,
    "ne": 45.0,
    "n": 90.0,
    "nw": 135.0,
    "w": 180.0,
    "sw": 225.0,
    "s": 270.0,
    "se": 315.0,
}
_SIDES = {"north": "n", "east": "e", "south": "s", "west": "w"}
_NUMBER = r"([0-9]{1,3}(?:[.,][0-9]+)?)"
_BEARING = re.compile(rf"([ns]) ?{_NUMBER}°? ?([ew])")
_TURN = re.compile(rf"(l|r|left|right)(?: ?{_NUMBER}°?)?")
_AHEAD = frozenset({"on", "straight", "straight on"})
_MOST_BEARING_DEG = 90.0
_MOST_TURN_DEG = 175.0
_RIGHT_ANGLE_DEG = 90.0
_NAMES = {0.0: "east", 90.0: "north", 180.0: "west", 270.0: "south"}


@dataclass(frozen=True, slots=True)
class Heading:
    """A direction in degrees anticlockwise from east; a turn is measured from another frame's direction."""

    degrees: float
    turn: bool = False

    def after(self, before_deg: float) -> float:
        """Return the direction on the plan in [0, 360), coming from a frame that goes `before_deg`."""
        return (self.degrees + (before_deg if self.turn else 0.0)) % 360.0


STRAIGHT_ON = Heading(0.0, turn=True)


def parse_heading(text: str) -> Heading | None:
    """Read a heading; None when it is none.

    Compass letters or words (``N``, ``north-east``), bearings from north or south
    (``N30E``), turns (``L``, ``right``, ``R45``; 90 degrees unless given), or ``on``.
    """
    word = " ".join(text.casefold().split())
    if word in _AHEAD:
        return STRAIGHT_ON
    letters = re.sub(r"north|east|south|west", lambda side: _SIDES[side[0]], word).replace("-", "")
    if letters in _COMPASS_DEG:
        return Heading(_COMPASS_DEG[letters])
    bearing = _BEARING.fullmatch(word)
    if bearing is not None:
        return _bearing(bearing[1], _value(bearing[2]), bearing[3])
    turned = _TURN.fullmatch(word)
    if turned is not None:
        degrees = _RIGHT_ANGLE_DEG if turned[2] is None else _value(turned[2])
        return Heading(degrees if turned[1][0] == "l" else -degrees, turn=True) if _turns(degrees) else None
    return None


def unit(degrees: float) -> Point:
    """Return the vector one mm long in a direction; exact along the axes."""
    if degrees % _RIGHT_ANGLE_DEG == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(degrees // _RIGHT_ANGLE_DEG) % 4]
    return (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))


def spoken(degrees: float) -> str:
    """Return a direction as people say it: "north", or a bearing such as "N30.5E"."""
    if degrees % 360.0 in _NAMES:
        return _NAMES[degrees % 360.0]
    return written(degrees)


def written(degrees: float) -> str:
    """Return a direction as layout.csv has it: ``N``, ``NE`` or a bearing such as ``N30.5E``."""
    whole = degrees % 360.0
    letters = next((word for word, angle in _COMPASS_DEG.items() if angle == whole), None)
    if letters is not None:
        return letters.upper()
    east, north = unit(whole)
    off_deg = math.degrees(math.atan2(abs(east), abs(north)))
    return f"{'N' if north > 0 else 'S'}{off_deg:.10g}{'E' if east > 0 else 'W'}"


def _bearing(pole: str, off_deg: float, side: str) -> Heading | None:
    if off_deg > _MOST_BEARING_DEG:
        return None
    from_pole = -off_deg if (pole == "n") == (side == "e") else off_deg
    return Heading(((90.0 if pole == "n" else 270.0) + from_pole) % 360.0)


def _turns(degrees: float) -> bool:
    return degrees <= _MOST_TURN_DEG


def _value(digits: str) -> float:
    return float(digits.replace(",", "."))
