"""Strings along plates on the lap sheets: where to read, on which side the string is, the limit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from packseq.scenario.model import Frame
from packseq.sheet import Column, Part, Table, Tick, Ticks, Words
from packseq.sitework.laps.study import Laps, LevelLaps, Read, WallLine
from packseq.sitework.readings.tolerances import Check, ToleranceSet
from packseq.sitework.walls import Wall, back, compass

Plate = Literal["bottom", "top"]

_HOW = (
    "Read the gap at each place. More than the gauge: the plate goes toward the string. Less: away from it. "
    "Write what you read; packseq readings tells what to push where."
)


def string_parts(laps: Laps, level: LevelLaps, plate: Plate) -> Iterator[Part]:
    """Yield how a string is set, a table for each wall, and the walls that are too short for one."""
    string = (
        f"String along each {plate} plate from end to end, outside the external walls, with two equal "
        "packers behind it and a third like them as the gauge."
    )
    yield Words((string, _HOW, limit_words(laps.choices.limits, "line")))
    short = []
    for line in level.lines:
        read = line.bottom if plate == "bottom" else line.top
        if read:
            yield _table(laps, line, read)
        else:
            short.append(Tick(f"{line.wall.name}, {', '.join(line.frames)}"))
    if short:
        yield Ticks(tuple(short), "Nothing to read between the packers on these; look along each:")


def limit_words(limits: ToleranceSet, check: Check) -> str:
    """Return the limit for a check in words."""
    limit = limits.limits.get(check)
    if limit is None:
        return f"The set {limits.name} has no limit for this: go by the consented documents."
    return f"Limit ({limits.name}, {check}): {limit}."


def string_side(wall: Wall) -> str:
    """Return on which compass side of a wall its string goes: outside, or on an internal wall's left."""
    return compass(wall.left if wall.location == "internal" else back(wall.left))


def file_side(wall: Wall, frame: Frame) -> str:
    """Return what the column ``side`` of a file of readings holds for a string there; blank: the usual.

    Left and right go by the frame's own way from end 1 to end 2 (docs/readings.md).
    """
    if wall.location == "external":
        return ""
    ahead = (frame.end[0] - frame.start[0], frame.end[1] - frame.start[1])
    return "left" if ahead[0] * wall.along[0] + ahead[1] * wall.along[1] > 0 else "right"


def _table(laps: Laps, line: WallLine, read: Sequence[Read]) -> Table:
    columns = (
        Column("mm", number=True),
        Column("at"),
        Column("gap mm", number=True, to_fill_in=True),
        Column("in the file of readings"),
    )
    rows = tuple(
        (f"{each.station.at_mm:.0f}", each.station.what, "", _in_file(laps, line.wall, each)) for each in read
    )
    limit = laps.choices.limits.limits.get("line")
    within = "" if limit is None else f"; within {limit.allowed_mm(line.wall.length_mm):.1f} mm of the gauge"
    title = (
        f"{line.wall.name}, {line.wall.length_mm:.0f} mm, {', '.join(line.frames)}: from its {line.hook}, "
        f"string on its {string_side(line.wall)}{within}"
    )
    return Table(columns, rows, title)


def _in_file(laps: Laps, wall: Wall, read: Read) -> str:
    side = file_side(wall, laps.job.house.scenario.frames[read.frame])
    return f"{read.frame} at {read.from_end_1_mm:.0f}{f', {side}' if side else ''}"
