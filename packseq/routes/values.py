"""Where legs begin and end, and what a leg is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packseq.geometry import Point, whole_mm
from packseq.scenario.model import Frame, Pack, Place, Scenario, Spot

Load = tuple[float, float] | None
"""What matters of a carried frame, its height and thickness in mm; None: empty-handed."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A point where a leg may begin or end, in mm on the plan of one level.

    `frame` is given where the point is the middle of that frame's line: the team leaves such a
    stop on either side of the frame, and finds it not yet standing when it arrives.
    """

    level: int
    point: Point
    frame: str | None = None


@dataclass(frozen=True, slots=True)
class Leg:
    """A shortest walkable route: its length in whole mm and the points it bends at, both ends included."""

    mm: int
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A shortest walkable route: its length in whole mm, and sets of frames across it.

    It stays the shortest while more frames come to stand, until some set stands whole.
    """

    mm: int
    across: tuple[frozenset[str], ...]


def whole_points(points: Iterable[Point]) -> tuple[tuple[int, int], ...]:
    """Return the points of a route in whole mm, as a plan file has them."""
    return tuple((whole_mm(x), whole_mm(y)) for x, y in points)


def load_of(carried: Frame | None) -> Load:
    """Return what matters of a frame in the team's hands, None for an empty-handed walk."""
    return None if carried is None else (carried.height_mm, carried.thickness_mm)


def frame_stop(frame: Frame) -> Stop:
    """Return the middle of a frame's line, where it is put down to be stood."""
    return Stop(frame.level, frame.middle, frame.name)


def pack_stop(pack: Pack, place: Place) -> Stop:
    """Return the centre of a pack landed at a place."""
    return Stop(pack.level, place.at)


def spot_stop(spot: Spot) -> Stop:
    """Return the centre of a spot."""
    return Stop(spot.level, spot.at)


def scenario_stops(scenario: Scenario) -> tuple[Stop, ...]:
    """Return every stop of a scenario: packs at each of their places, spots, middles of frames."""
    return (
        *(pack_stop(pack, place) for pack in scenario.packs.values() for place in pack.places),
        *(spot_stop(spot) for spot in scenario.spots.values()),
        *(frame_stop(frame) for frame in scenario.frames.values()),
    )
