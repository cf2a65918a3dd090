"""What a reading at a place means: what it should be, and which way to move things if it is not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packseq.house.model import House
from packseq.scenario.model import Frame
from packseq.sitework.readings.model import Task
from packseq.sitework.readings.tolerances import Check
from packseq.sitework.setout import Choices, Rectangle, SetOut, set_out
from packseq.sitework.tapesd import tape_sd_mm
from packseq.sitework.walls import Wall, back, compass, toward, walls_by_frame

GIVE_OR_TAKE_MM = 1.0
"""How far a reading of a gap, a lean, a level or an offset may itself be off: common practice, no source."""

_AT_END_MM = 1.0
"""A station this near to the end is at it."""

_TAPE_SDS = 2.0
"""A tape is given or taken two standard deviations: 19 readings of 20."""


@dataclass(frozen=True)
class Job:
    """A house with its walls and its set-out, to look readings up in."""

    house: House
    walls: Mapping[str, Wall]
    set_outs: Mapping[int, SetOut]
    diagonals: Mapping[int, Mapping[str, Rectangle]]


def job_of(house: House, choices: Choices) -> Job:
    """Return a house ready to look readings up in."""
    set_outs = {level.level: set_out(house, level, choices) for level in house.levels}
    return Job(
        house=house,
        walls=walls_by_frame(house),
        set_outs=set_outs,
        diagonals={
            level: {diagonal_name(ends): each for each in done.rectangles for ends in each.diagonals}
            for level, done in set_outs.items()
        },
    )


def diagonal_name(ends: tuple[str, str]) -> str:
    """Return what a diagonal is called in a file: ``1/2-4/3``."""
    return "-".join(ends)


def line_task(job: Job, frame: Frame, at_mm: float, gauge_mm: float, side: str) -> Task:
    """Return the task of a gap to a string line; `side` tells on which side of the plate the string is."""
    wall = job.walls[frame.name]
    to_string = toward(wall, frame, side)
    more, less = {"outside": ("push out", "pull in"), "inside": ("pull in", "push out")}.get(
        side, ("move", "move")
    )
    return _task(
        "line",
        frame,
        at_mm,
        expected_mm=gauge_mm,
        length_mm=wall.length_mm,
        if_more=f"{more} {{mm}} mm, {compass(to_string)}",
        if_less=f"{less} {{mm}} mm, {compass(back(to_string))}",
    )


def plumb_task(job: Job, frame: Frame, at_mm: float, height_mm: float, side: str) -> Task:
    """Return the task of a lean across a frame; a positive reading leans toward `side`."""
    lean = toward(job.walls[frame.name], frame, side)
    outward, inward = {"outside": (" out", " in"), "inside": (" in", " out")}.get(side, ("", ""))
    return _task(
        "plumb",
        frame,
        at_mm,
        expected_mm=0.0,
        length_mm=height_mm,
        if_more=f"top plate{inward} {{mm}} mm, {compass(back(lean))}",
        if_less=f"top plate{outward} {{mm}} mm, {compass(lean)}",
    )


def plumb_along_task(frame: Frame, at_mm: float, height_mm: float) -> Task:
    """Return the task of a lean along a frame; a positive reading leans toward its end 2."""
    along = (frame.end[0] - frame.start[0], frame.end[1] - frame.start[1])
    return _task(
        "plumb-along",
        frame,
        at_mm,
        expected_mm=0.0,
        length_mm=height_mm,
        if_more=f"top {{mm}} mm, {compass(back(along))}",
        if_less=f"top {{mm}} mm, {compass(along)}",
    )


def level_task(job: Job, frame: Frame, at_mm: float) -> Task:
    """Return the task of a level; a positive reading is too high."""
    return _task(
        "level",
        frame,
        at_mm,
        expected_mm=0.0,
        length_mm=job.walls[frame.name].length_mm,
        if_more="take down {mm} mm",
        if_less="pack up {mm} mm",
    )


def position_task(job: Job, frame: Frame, at_mm: float) -> Task | None:
    """Return the task of an offset from a frame's nearer face to its set-out line; None where it has none."""
    wall = job.walls[frame.name]
    served = job.set_outs[wall.level].serving(wall.name)
    if served is None:
        return None
    line, off_mm = served
    (ux, uy), (x, y) = line.along_unit, line.start
    beyond = ux * (frame.middle[1] - y) - uy * (frame.middle[0] - x)
    to_line = (uy, -ux) if beyond > 0 else (-uy, ux)
    return _task(
        "position",
        frame,
        at_mm,
        expected_mm=off_mm,
        length_mm=off_mm,
        if_more=f"move {{mm}} mm, {compass(to_line)}, toward line {line.number}",
        if_less=f"move {{mm}} mm, {compass(back(to_line))}, away from line {line.number}",
    )


def diagonal_task(job: Job, level: int, name: str) -> Task:
    """Return the task of a diagonal of the set-out, by its name."""
    rectangle = job.diagonals[level][name]
    length_mm = rectangle.diagonal_mm
    return Task(
        check="diagonal",
        level=level,
        where=name,
        at_mm=None,
        place=f"of the rectangle that proves line {rectangle.proves}",
        expected_mm=length_mm,
        length_mm=length_mm,
        give_or_take_mm=_TAPE_SDS * tape_sd_mm(length_mm),
        if_more=f"{{mm}} mm long: measure the other one, then line {rectangle.proves} again",
        if_less=f"{{mm}} mm short: measure the other one, then line {rectangle.proves} again",
    )


def _task(
    check: Check,
    frame: Frame,
    at_mm: float,
    *,
    expected_mm: float,
    length_mm: float,
    if_more: str,
    if_less: str,
) -> Task:
    return Task(
        check=check,
        level=frame.level,
        where=frame.name,
        at_mm=at_mm,
        place=_place(frame, at_mm),
        expected_mm=expected_mm,
        length_mm=length_mm,
        give_or_take_mm=GIVE_OR_TAKE_MM,
        if_more=if_more,
        if_less=if_less,
    )


def _place(frame: Frame, at_mm: float) -> str:
    """Return where on a frame a station is, told from its end 1 by the compass."""
    first = compass((frame.start[0] - frame.middle[0], frame.start[1] - frame.middle[1]))
    if at_mm < _AT_END_MM:
        return f"at its {first} end"
    if at_mm > frame.length_mm - _AT_END_MM:
        return f"at its {compass((frame.end[0] - frame.middle[0], frame.end[1] - frame.middle[1]))} end"
    return f"{at_mm / 1000:.1f} m from its {first} end"
