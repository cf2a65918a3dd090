"""Which way a wanted brace goes: the side with room, a tie over the top plates, or neither."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from packseq.check.job import Job
from packseq.check.state import Heap, State
from packseq.scenario.model import Frame
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.braces.room import BRACE_MM, Kind, Obstacle, Way, facing, furthest_mm, in_the_way, ways
from packseq.sitework.braces.spacing import Wanted, clear_places
from packseq.sitework.walls import walls_of


@dataclass(frozen=True, slots=True)
class Tie:
    """A length of timber over the top plates, from one frame to a standing one across from it."""

    at_mm: float
    to: str
    length_mm: float


@dataclass(frozen=True, slots=True)
class Brace:
    """A brace, a tie, or a place where there is room for neither (both None).

    Parameters
    ----------
    name
        B1, B2 and so on, in the order in which they are fixed.
    stand
        The stand at which it is fixed.
    frame
        The frame that it holds.
    why
        What it is for: an end, mid-wall, the first corner.
    wanted_mm
        Where it is wanted, in mm from end 1.
    way, tie
        How it goes.
    in_the_way
        What leaves no room, where there is none.
    """

    name: str
    stand: int
    frame: Frame
    why: str
    wanted_mm: float
    way: Way | None = None
    tie: Tie | None = None
    in_the_way: tuple[str, ...] = ()

    @property
    def fixed(self) -> bool:
        """Whether there is room for it, or for a tie."""
        return self.way is not None or self.tie is not None

    @property
    def timber_mm(self) -> float | None:
        """Length of the brace or tie in mm, None where there is room for neither."""
        if self.way is not None:
            return self.way.length_mm
        return None if self.tie is None else self.tie.length_mm

    @property
    def at_mm(self) -> float:
        """Where it holds the frame, in mm from end 1."""
        fixed = self.way or self.tie
        return self.wanted_mm if fixed is None else fixed.at_mm


@dataclass(frozen=True, slots=True)
class Moment:
    """What stands and lies before a frame is stood, the spots in use from now on, and the braces fixed."""

    state: State
    spots_in_use: frozenset[str]
    braces: tuple[Brace, ...]


@dataclass(frozen=True)
class Yard:
    """The ground that braces come down on: slab and floors, what lies about, what is still to come."""

    job: Job
    choices: BraceChoices

    @property
    def frames(self) -> Mapping[str, Frame]:
        """The frames of the scenario, by name."""
        return self.job.house.scenario.frames

    @cached_property
    def shapes(self) -> Mapping[str, Polygon]:
        """The footprint of each frame on the plan."""
        return {name: Polygon(frame.footprint) for name, frame in self.frames.items()}

    @cached_property
    def off_the_floors(self) -> Mapping[int, BaseGeometry]:
        """What lies round the outer walls of each upper level: there is nothing to fix a foot to."""
        return {
            level: self._off_the_floor(level)
            for level in self.job.house.scenario.levels
            if not self.on_ground(level)
        }

    @cached_property
    def indoors_left(self) -> frozenset[str]:
        """The external frames that have indoors on the left of the way from end 1 to end 2."""
        found = set()
        for level in self.job.house.levels:
            for wall in walls_of(self.job.house, level.level):
                for name in wall.frames:
                    frame = self.frames[name]
                    (x1, y1), (x2, y2) = frame.start, frame.end
                    if (
                        wall.location == "external"
                        and wall.along[0] * (x2 - x1) + wall.along[1] * (y2 - y1) > 0
                    ):
                        found.add(name)
        return frozenset(found)

    def on_ground(self, level: int) -> bool:
        """Tell whether a level stands on the slab, so that a foot may be pegged in the ground beside it."""
        return level == self.job.house.scenario.levels[0]

    def obstacles(self, moment: Moment, frame: Frame) -> tuple[Obstacle, ...]:
        """Return what stands, lies or is to come on the frame's level within reach of its braces.

        The frame itself is none.
        """
        reach = furthest_mm(frame, self.choices) + BRACE_MM
        near = self.shapes[frame.name].buffer(reach, join_style="mitre")
        return tuple(each for each in self._obstacles(moment, frame) if near.intersects(each.shape))

    def _obstacles(self, moment: Moment, frame: Frame) -> Iterator[Obstacle]:
        scenario = self.job.house.scenario
        for other in self.frames.values():
            if other.level == frame.level and other != frame:
                kind: Kind = "standing" if other.name in moment.state.standing else "to come"
                yield Obstacle(kind, other.name, self.shapes[other.name])
        for pack in scenario.packs.values():
            if pack.level == frame.level and moment.state.heaps[Heap("pack", pack.name)]:
                ground = Polygon(pack.footprint(self.job.places[pack.name]))
                yield Obstacle("lying", f"pack {pack.name}", ground)
        for spot in self.job.spots.values():
            if spot.level == frame.level and spot.name in moment.spots_in_use:
                yield Obstacle("lying", f"spot {spot.name}", Polygon(spot.footprint))
        if self.on_ground(frame.level):
            for number, ring in enumerate(scenario.no_go, 1):
                yield Obstacle("no-go", f"no-go area {number}", Polygon(ring))
        else:
            yield Obstacle("edge", "the edge of the floor", self.off_the_floors[frame.level])

    def _off_the_floor(self, level: int) -> BaseGeometry:
        frames = [frame for frame in self.frames.values() if frame.level == level]
        built = unary_union([Polygon(frame.footprint) for frame in frames])
        closed = built.buffer(BRACE_MM, join_style="mitre").buffer(-BRACE_MM, join_style="mitre")
        floor = unary_union([Polygon(part.exterior) for part in getattr(closed, "geoms", (closed,))])
        furthest = max(furthest_mm(frame, self.choices) for frame in frames)
        return floor.buffer(furthest + BRACE_MM, join_style="mitre").difference(floor)


def place_brace(yard: Yard, moment: Moment, frame: Frame, want: Wanted) -> Way | Tie | None:
    """Return the way or the tie for a wanted brace; None where there is no room for either.

    In this order: a brace clear of everything, the frames to come included; a tie over the top plates to a
    standing frame across from it; a brace clear of all but the lines of frames to come. Of several the
    nearest to the wanted angle, then on the wanted side, then nearest the wanted place.
    """
    choices, places = yard.choices, clear_places(frame, want)
    others = [each.way for each in moment.braces if each.way is not None and each.frame.level == frame.level]
    found = sorted(
        ways(frame, places, yard.obstacles(moment, frame), choices),
        key=lambda way: _rank(yard, frame, want, way),
    )

    def first(fitting: Iterable[Way]) -> Way | None:
        return next((way for way in fitting if not any(way.collides(other) for other in others)), None)

    clear = first(way for way in found if not way.crosses)
    return clear or _tie(yard, moment, frame, places) or first(found)


def what_is_in_the_way(yard: Yard, moment: Moment, frame: Frame, want: Wanted) -> tuple[str, ...]:
    """Return what leaves no room for a wanted brace at its best place, the nearest thing on each side."""
    best = clear_places(frame, want)[0]
    return in_the_way(frame, best, yard.obstacles(moment, frame), yard.choices)


def _tie(yard: Yard, moment: Moment, frame: Frame, places: Iterable[float]) -> Tie | None:
    standing = [yard.frames[name] for name in moment.state.stood if yard.frames[name].level == frame.level]
    for at_mm in places:
        across = facing(frame, at_mm, standing, yard.choices.tie_mm)
        if across is not None:
            other, gap_mm = across
            return Tie(at_mm, other.name, gap_mm + frame.thickness_mm + other.thickness_mm)
    return None


def _rank(yard: Yard, frame: Frame, want: Wanted, way: Way) -> tuple[float, float, bool, float, float, bool]:
    inside = way.left == (frame.name in yard.indoors_left)
    external = yard.job.house.locations[frame.name] == "external"
    other_side = external and inside != (yard.choices.side == "inside")
    lower = frame.height_mm - way.top_mm
    return (lower, round(way.angle_deg, 3), other_side, abs(way.at_mm - want.best_mm), way.at_mm, way.left)
