"""Where people and frames come through the walls of a level: doors, gaps, frames that may be held open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon

from packseq.geometry import Point, middle, strip
from packseq.house.model import House, LevelHouse
from packseq.routes.passing import EMPTY_WIDTH_MM, lets_carried, lets_empty
from packseq.scenario.model import Frame, Opening, Scenario

# Common practice, no source: room to stand and turn before a door.
DOOR_ROOM_MM = 900.0


@dataclass(frozen=True, slots=True)
class Doorway:
    """A door, a declared gap, or a frame that may be held open.

    `through` names the frame; `before` is the ground on both sides of it, `middle` its middle. `outer`
    tells that it is in an outer wall, and `way_in` that frames may come in there from outside.
    """

    through: str
    before: Polygon
    middle: Point
    outer: bool
    way_in: bool

    def leads_past(self, lying: Iterable[Polygon]) -> bool:
        """Tell whether people can walk straight through, past what lies there."""
        left = self.before.difference(shapely.union_all(list(lying))).buffer(-EMPTY_WIDTH_MM / 2)
        corners = self.before.exterior.coords
        sides = LineString(corners[0:2]), LineString(corners[2:4])
        return any(
            all(part.distance(side) <= EMPTY_WIDTH_MM / 2 + 1 for side in sides)
            for part in shapely.get_parts(left)
        )


def doorways(house: House, level: LevelHouse) -> tuple[Doorway, ...]:
    """Return every way through the walls of a level that people or frames may take."""
    frames = {name: frame for name, frame in house.scenario.frames.items() if frame.level == level.level}
    return tuple(_doorways(house, level, frames))


def blocked_ways_in(house: House) -> tuple[str, ...]:
    """Return a line for each level whose every way in for frames has a spot, or a pack, right before it.

    Nothing that lies flat blocks a route in the rules; people who carry a frame past it know better.
    """
    told = []
    scenario = house.scenario
    for level in house.levels:
        ways = [door for door in doorways(house, level) if door.way_in]
        lying = [
            (f"spot {spot.name}", Polygon(spot.footprint))
            for spot in scenario.spots.values()
            if spot.level == level.level
        ]
        lying += [
            (f"pack {pack.name}", Polygon(pack.footprint(pack.places[0])))
            for pack in scenario.packs.values()
            if pack.level == level.level and len(pack.places) == 1
        ]
        before = [[name for name, ground in lying if ground.intersects(way.before)] for way in ways]
        shut = not any(way.leads_past([ground for _, ground in lying]) for way in ways)
        if ways and level.internals and shut and _comes_from_outside(scenario, level):
            through = ", ".join(dict.fromkeys(way.through for way in ways))
            names = ", ".join(dict.fromkeys(name for each in before for name in each))
            told.append(
                f"way-in: {names} right before {through}, the only way in for frames once the walls stand: "
                f"move clear by {DOOR_ROOM_MM:.0f} mm, or hold another frame open"
            )
    return tuple(told)


def _comes_from_outside(scenario: Scenario, level: LevelHouse) -> bool:
    """Tell whether a pack of the level lies outside of its walls, or may land there."""
    lines = [Polygon(scenario.frames[name].footprint) for name in level.perimeter]
    within = shapely.union_all(lines).convex_hull
    return any(
        not within.contains(shapely.Point(place.at))
        for pack in scenario.packs.values()
        if pack.level == level.level
        for place in pack.places
    )


def _doorways(house: House, level: LevelHouse, frames: Mapping[str, Frame]) -> Iterator[Doorway]:
    scenario = house.scenario
    for frame in frames.values():
        outer = frame.name in level.perimeter
        for opening in frame.openings:
            carried = any(lets_carried(opening, other, scenario.clearance_mm) for other in frames.values())
            if lets_empty(opening) or carried:
                yield _doorway(frame, _ends(frame, opening), outer=outer, way_in=outer and carried)
    for one, other in scenario.gaps:
        if one in frames and other in frames:
            yield _doorway(frames[one], _across(frames[one], frames[other]), outer=True, way_in=True)
    hold = scenario.stand.hold_open
    held = {name for way in ("clockwise", "anticlockwise") for name in level.stand_round(way)[-hold:]}
    for name in sorted(held if hold and level.internals else ()):
        yield _doorway(frames[name], (frames[name].start, frames[name].end), outer=True, way_in=True)


def _doorway(frame: Frame, ends: tuple[Point, Point], *, outer: bool, way_in: bool) -> Doorway:
    before = Polygon(strip(*ends, frame.thickness_mm + 2 * DOOR_ROOM_MM))
    return Doorway(frame.name, before, middle(*ends), outer, way_in)


def _ends(frame: Frame, opening: Opening) -> tuple[Point, Point]:
    """Return the two jambs of an opening on the centre line of its frame."""
    near, far = (
        min(1.0, distance / frame.length_mm)
        for distance in (opening.from_mm, opening.from_mm + opening.width_mm)
    )
    line = np.array(frame.start), np.array(frame.end) - np.array(frame.start)
    start, end = (line[0] + share * line[1] for share in (near, far))
    return (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))


def _across(one: Frame, other: Frame) -> tuple[Point, Point]:
    """Return the two ends of a gap: those of its frames that lie nearest to one another."""
    pairs = [(start, end) for start in (one.start, one.end) for end in (other.start, other.end)]
    return min(pairs, key=lambda pair: np.hypot(pair[0][0] - pair[1][0], pair[0][1] - pair[1][1]))
