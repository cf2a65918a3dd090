"""Going round: the walls, the corners and the joins of a level in the order of a lap."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from packseq.check.job import Job
from packseq.geometry import Point
from packseq.house.model import Join, LevelHouse
from packseq.house.shapes import angle_between_deg
from packseq.sitework.laps.parallels import Parallel
from packseq.sitework.laps.plates import doorways, sides_mm
from packseq.sitework.laps.stations import Station
from packseq.sitework.tape import Tape
from packseq.sitework.walls import Wall

CORNER_DEG = 30.0
"""Two neighbours of the perimeter at less than this carry on rather than turn: common practice, no source."""


def walls_round(job: Job, level: LevelHouse, walls: Sequence[Wall]) -> tuple[Wall, ...]:
    """Return the external walls, the reference wall's first, on round in the direction of the lap."""
    by_frame = {name: wall for wall in walls for name in wall.frames}
    names = dict.fromkeys(by_frame[frame].name for frame in job.laps[level.level])
    by_name = {wall.name: wall for wall in walls}
    return tuple(by_name[name] for name in names)


def frames_along(wall: Wall, job: Job) -> tuple[str, ...]:
    """Return the frames of a wall in the order in which a lap comes to them."""
    turned = wall.location == "external" and job.direction == "clockwise"
    return wall.frames[::-1] if turned else wall.frames


def corners_round(job: Job, level: LevelHouse) -> tuple[tuple[str, str], ...]:
    """Return the corners of the perimeter in the order of the lap, each as the two frames that make it.

    A declared gap is no corner: there the two frames do not touch.
    """
    lap = job.laps[level.level]
    ring = [*lap, lap[0]] if level.closed else list(lap)
    frames = job.house.scenario.frames
    gaps = {frozenset(gap) for gap in job.house.scenario.gaps}
    return tuple(
        (before, after)
        for before, after in pairwise(ring)
        if frozenset((before, after)) not in gaps
        and angle_between_deg(frames[before], frames[after]) >= CORNER_DEG
    )


def joins_round(job: Job, level: LevelHouse, parallels: Iterable[Parallel]) -> tuple[Join, ...]:
    """Return every join of a level: those of the perimeter in the order of the lap, then the internal ones.

    These come wall by wall, in the order in which the walls are set.
    """
    lap = job.laps[level.level]
    internal = [name for parallel in parallels for name in parallel.wall.frames]
    place = {name: number for number, name in enumerate((*lap, *internal))}
    own = [join for join in job.house.joins if join.frames[0] in place]
    ends = len(lap)

    def turn(join: Join) -> tuple[int, int, int]:
        first, last = sorted(place[name] for name in join.frames)
        both_outer = last < ends
        # The last frame of the lap closes on to the first: that join is the last of the perimeter's.
        closing = both_outer and first == 0 and last == ends - 1 and ends > 2  # noqa: PLR2004
        return (0, ends, 0) if closing else (0 if both_outer else 1, last, first)

    return tuple(sorted(own, key=turn))


def bottom_marks(wall: Wall, job: Job, tapes: Sequence[Tape]) -> tuple[Station, ...]:
    """Return where the string along a bottom plate must be read: at joins and at the sides of doorways."""
    return _marks(wall, job, tapes, at_doors=True)


def top_marks(wall: Wall, job: Job, tapes: Sequence[Tape]) -> tuple[Station, ...]:
    """Return where the string along a top plate must be read: at joins and over the middle of openings."""
    return _marks(wall, job, tapes, at_doors=False)


def _marks(wall: Wall, job: Job, tapes: Sequence[Tape], *, at_doors: bool) -> tuple[Station, ...]:
    found: list[Station] = []
    start = _first_end(wall, job)
    for tape in tapes:
        begins = _begins_mm(wall, tape, start)
        if begins > 0:
            found.append(Station(begins, f"join at {tape.frame.name}"))
        for opening in doorways(tape.frame) if at_doors else tape.frame.openings:
            low, high = sides_mm(tape, opening)
            places = (low, high) if at_doors else ((low + high) / 2,)
            found += [Station(begins + place, f"{opening.kind} in {tape.frame.name}") for place in places]
    return tuple(found)


def on_frame(wall: Wall, job: Job, tapes: Sequence[Tape], at_mm: float) -> tuple[str, float]:
    """Return the frame at a place along a wall, and how far the place is from the frame's end 1.

    That is how the file of readings names a place (docs/laps.md).
    """
    start = _first_end(wall, job)
    tape = max(
        (each for each in tapes if _begins_mm(wall, each, start) <= at_mm),
        key=lambda each: _begins_mm(wall, each, start),
        default=tapes[0],
    )
    along_mm = min(max(at_mm - _begins_mm(wall, tape, start), 0.0), tape.frame.length_mm)
    return tape.frame.name, tape.from_end_1(along_mm)


def _begins_mm(wall: Wall, tape: Tape, start: Point) -> float:
    """Return how far along a wall the tape of one of its frames begins."""
    return abs((tape.zero[0] - start[0]) * wall.along[0] + (tape.zero[1] - start[1]) * wall.along[1])


def _first_end(wall: Wall, job: Job) -> Point:
    turned = wall.location == "external" and job.direction == "clockwise"
    return wall.end if turned else wall.start
