"""The ground of one level: rooms to be, what must be kept clear, and what is left for spots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from packseq.house.location import outside
from packseq.house.model import House, LevelHouse
from packseq.routes.doorways import Doorway, doorways
from packseq.routes.passing import EMPTY_WIDTH_MM
from packseq.scenario.model import Place

# Common practice, no source: room to work beside a wall, a pack or another spot.
AISLE_MM = 1000.0
BESIDE_MM = 600.0
OFF_WALL_MM = 100.0
"""A spot keeps so far off the lines of frames, but for one whose frames lean on a wall."""
REACH_MM = 6000.0
"""No spot lies further outside the building: further out is another site."""
_LEAST_ROOM_MM2 = 1e6

Boxes = NDArray[np.object_]


@dataclass(frozen=True)
class Ground:
    """One level with its packs landed.

    Attributes
    ----------
    rooms
        The rooms to be, open-plan ones whole.
    inside
        All that the outer walls enclose.
    lines
        The lines of every frame of the level.
    doorways
        Doors, declared gaps, and frames that may be held open.
    barred
        Packs and no-go areas.
    on_the_ground
        Whether spots may lie outside the building: on the lowest level only.
    """

    rooms: tuple[Polygon, ...]
    inside: BaseGeometry
    lines: BaseGeometry
    doorways: tuple[Doorway, ...]
    barred: BaseGeometry
    on_the_ground: bool

    @cached_property
    def within(self) -> BaseGeometry:
        """Where a spot may lie inside, a little off every wall."""
        rooms = shapely.union_all([room.buffer(-OFF_WALL_MM, join_style="mitre") for room in self.rooms])
        return self._free(rooms)

    @cached_property
    def along_walls(self) -> BaseGeometry:
        """Where frames may lean on a wall: close to it, inside and outside."""
        return self._free(self._everywhere.difference(self.lines))

    @cached_property
    def without(self) -> BaseGeometry:
        """Where a spot may lie outside, an aisle off the walls."""
        return self._free(self._everywhere.difference(self.inside.buffer(AISLE_MM, join_style="mitre")))

    @cached_property
    def anywhere(self) -> BaseGeometry:
        """Where a spot may lie at all."""
        lines = self.lines.buffer(OFF_WALL_MM, join_style="mitre")
        return self._free(self._everywhere.difference(lines))

    @cached_property
    def _everywhere(self) -> BaseGeometry:
        return self.inside.buffer(REACH_MM, join_style="mitre") if self.on_the_ground else self.inside

    def _free(self, ground: BaseGeometry) -> BaseGeometry:
        # Doors between rooms need no ground of their own: people only have to get past to them.
        doors = [door.before for door in self.doorways if door.outer]
        free = ground.difference(shapely.union_all([self.barred, *doors]))
        shapely.prepare(free)
        return free

    def leaves_a_way(self, spot: Polygon) -> bool:
        """Tell whether people still get from every doorway of a room to every other one past a spot."""
        for room in self.rooms:
            if not room.intersects(spot):
                continue
            walkable = room.difference(spot).buffer(-EMPTY_WIDTH_MM / 2)
            parts = shapely.get_parts(walkable)
            doors = [door.before for door in self.doorways if door.before.intersection(room).area > 0]
            if doors and not any(all(part.intersects(door) for door in doors) for part in parts):
                return False
        return True


def level_ground(house: House, level: LevelHouse, places: Mapping[str, Place]) -> Ground:
    """Return the ground of a level with its packs landed at their places."""
    scenario = house.scenario
    frames = {name: frame for name, frame in scenario.frames.items() if frame.level == level.level}
    bridges = [
        (frames[one], frames[other]) for one, other in scenario.gaps if one in frames and other in frames
    ]
    ring = outside(list(frames.values()), bridges, scenario.join_gap_mm)
    inside = shapely.union_all([Polygon(each) for each in ring.geoms])
    lines = shapely.union_all([Polygon(frame.footprint) for frame in frames.values()])
    # Joints are no way between two rooms: lines are let out until they meet.
    walls = lines.buffer((scenario.join_gap_mm + 1) / 2, join_style="mitre")
    rooms = [part for part in shapely.get_parts(inside.difference(walls)) if part.area > _LEAST_ROOM_MM2]
    packs = [
        Polygon(pack.footprint(places[pack.name])).buffer(BESIDE_MM, join_style="mitre")
        for pack in scenario.packs.values()
        if pack.level == level.level
    ]
    barred = shapely.union_all([*packs, *(Polygon(outline) for outline in scenario.no_go)])
    return Ground(
        tuple(rooms),
        inside,
        lines,
        doorways(house, level),
        barred,
        on_the_ground=level.level == min(scenario.levels),
    )


def boxes(centres: NDArray[np.float64], bearing_deg: float, length_mm: float, width_mm: float) -> Boxes:
    """Return rectangles of one size and direction about each centre, shape (centres, 2)."""
    angle = np.radians(bearing_deg)
    along = np.array((np.cos(angle), np.sin(angle))) * length_mm / 2
    across = np.array((-np.sin(angle), np.cos(angle))) * width_mm / 2
    corners = np.array((-along - across, along - across, along + across, -along + across))
    made: Boxes = np.asarray(shapely.polygons(centres[:, np.newaxis, :] + corners), dtype=np.object_)
    return made
