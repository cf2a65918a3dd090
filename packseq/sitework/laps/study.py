"""The laps of each level worked out: walls, plates, stations, dimensions, corners, junctions, joins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packseq.check import Replay
from packseq.check.job import Job
from packseq.house.model import Join, LevelHouse
from packseq.sitework.laps.order import (
    bottom_marks,
    corners_round,
    frames_along,
    joins_round,
    on_frame,
    top_marks,
    walls_round,
)
from packseq.sitework.laps.parallels import Parallel, set_parallels
from packseq.sitework.laps.plates import Plate, PlateChoices, plates_of
from packseq.sitework.laps.stations import STATION_MM, Station, stations
from packseq.sitework.readings.tolerances import SETS, ToleranceSet
from packseq.sitework.tape import Tape, compass, tapes
from packseq.sitework.usual import TOLERANCES
from packseq.sitework.walls import Wall, walls_by_frame, walls_of


@dataclass(frozen=True, slots=True)
class LapChoices:
    """The rules for plates, how far apart strings are read, and the limits that readings are held against."""

    plates: PlateChoices
    station_mm: float = STATION_MM
    limits: ToleranceSet = SETS[TOLERANCES]


@dataclass(frozen=True, slots=True)
class Read:
    """A station on a string, with the frame there and the place from that frame's end 1, in mm."""

    station: Station
    frame: str
    from_end_1_mm: float


@dataclass(frozen=True, slots=True)
class WallLine:
    """A wall with a string along it: from which end, its frames, and where the string is read."""

    wall: Wall
    hook: str
    frames: tuple[str, ...]
    bottom: tuple[Read, ...]
    top: tuple[Read, ...]


@dataclass(frozen=True, slots=True)
class LevelLaps:
    """What the laps of one level work through, each in its order.

    `lines` are the external walls from the reference wall round, then the internal ones as they are set;
    `plates` is empty above the slab.
    """

    level: int
    lines: tuple[WallLine, ...]
    plates: tuple[Plate, ...]
    parallels: tuple[Parallel, ...]
    corners: tuple[tuple[str, str], ...]
    junctions: tuple[Join, ...]
    joins: tuple[Join, ...]


@dataclass(frozen=True, slots=True)
class Laps:
    """The laps of every level, with the plan and the choices they rest on; tapes and walls by frame."""

    job: Job
    choices: LapChoices
    tapes: Mapping[str, Tape]
    walls: Mapping[str, Wall]
    levels: tuple[LevelLaps, ...]


def study_laps(done: Replay, choices: LapChoices) -> Laps:
    """Work out the laps of a plan that keeps the rules."""
    job = done.job
    every = tapes(job.house, job.direction)
    levels = tuple(_level(job, level, every, choices) for level in job.house.levels)
    return Laps(job, choices, every, walls_by_frame(job.house), levels)


def _level(job: Job, level: LevelHouse, every: Mapping[str, Tape], choices: LapChoices) -> LevelLaps:
    walls = walls_of(job.house, level.level)
    parallels = set_parallels(walls)
    ordered = (*walls_round(job, level, walls), *(parallel.wall for parallel in parallels))
    lines = tuple(_line(job, wall, every, choices) for wall in ordered)
    joins = joins_round(job, level, parallels)
    corners = corners_round(job, level)
    made = {frozenset(pair) for pair in corners}
    plates: tuple[Plate, ...] = ()
    if level.level == job.house.scenario.levels[0]:
        names = [name for line in lines for name in line.frames]
        plates = tuple(plate for name in names for plate in plates_of(job.house, every[name], choices.plates))
    return LevelLaps(
        level=level.level,
        lines=lines,
        plates=plates,
        parallels=parallels,
        corners=corners,
        junctions=tuple(
            join for join in joins if join.kind != "inline" and frozenset(join.frames) not in made
        ),
        joins=joins,
    )


def _line(job: Job, wall: Wall, every: Mapping[str, Tape], choices: LapChoices) -> WallLine:
    frames = frames_along(wall, job)
    own = [every[name] for name in frames]
    turned = wall.location == "external" and job.direction == "clockwise"
    begins, ends = (wall.end, wall.start) if turned else (wall.start, wall.end)
    bottom, top = (
        tuple(
            Read(station, *on_frame(wall, job, own, station.at_mm))
            for station in stations(wall.length_mm, marks, choices.station_mm)
        )
        for marks in (bottom_marks(wall, job, own), top_marks(wall, job, own))
    )
    return WallLine(wall, f"{compass(ends, begins)} end", frames, bottom, top)
