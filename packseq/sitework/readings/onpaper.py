"""What is read on one level and not on a lap sheet, with boxes: faces to lines, levels, leans."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.scenario.model import Frame
from packseq.sheet import Column, Section, Sheet, Table, Words
from packseq.sitework.readings.sheet import CAUTIONS, HOW_JUDGED, TITLE, limits_table
from packseq.sitework.readings.tasks import Job, position_task
from packseq.sitework.readings.tolerances import ToleranceSet
from packseq.sitework.walls import compass, sides_of, toward

_WHERE = (
    "Gaps to strings are written on laps 2 and 7, leans at corners and junctions on laps 5 and 6, diagonals "
    "on the set-out. The rest is here. Put them in a file, and packseq readings tells what to fix and what "
    "to measure again, the worst first: --form writes an empty one with every place of this house in it, and "
    "its answer is the record for the job's papers."
)


def on_paper_sheet(job: Job, level: int, limits: ToleranceSet) -> Sheet:
    """Return the sheet of one level: the limits, then what to read, frame by frame."""
    frames = [frame for frame in job.house.scenario.frames.values() if frame.level == level]
    title = f"{TITLE}, level {level}" if len(job.house.levels) > 1 else TITLE
    return Sheet(
        title,
        job.house.scenario.name,
        CAUTIONS,
        (
            Section("Limits", (Words((HOW_JUDGED, _WHERE)), limits_table(limits))),
            Section("Faces to lines, and levels", (_places(job, frames),)),
            Section("Leans", (_leans(job, frames),)),
        ),
    )


def _places(job: Job, frames: Sequence[Frame]) -> Table:
    columns = (
        Column("frame"),
        Column("end 1 is its"),
        Column("line", number=True),
        Column("should be mm", number=True),
        Column("end 1 mm", to_fill_in=True),
        Column("end 2 mm", to_fill_in=True),
        Column("end 1 too high mm", to_fill_in=True),
        Column("end 2 too high mm", to_fill_in=True),
    )
    title = "From the frame's nearer face to its line, at both ends; how much too high each end stands."
    return Table(columns, tuple(_place_row(job, frame) for frame in frames), title)


def _place_row(job: Job, frame: Frame) -> tuple[str, ...]:
    first = f"{compass((frame.start[0] - frame.end[0], frame.start[1] - frame.end[1]))} end"
    task = position_task(job, frame, 0.0)
    served = job.set_outs[frame.level].serving(job.walls[frame.name].name)
    if task is None or served is None:
        return (frame.name, first, "none", "-", "-", "-", "", "")
    return (frame.name, first, str(served[0].number), f"{task.expected_mm:.0f}", "", "", "", "")


def _leans(job: Job, frames: Sequence[Frame]) -> Table:
    columns = (
        Column("frame"),
        Column("+ is its top to the"),
        Column("end 1 mm", to_fill_in=True),
        Column("end 2 mm", to_fill_in=True),
        Column("along it, + to the"),
        Column("along mm", to_fill_in=True),
        Column("over mm", number=True),
    )
    title = "How far the top leans: across the frame at both ends, and along it; the other way is minus."
    return Table(columns, tuple(_lean_rows(job, frames)), title)


def _lean_rows(job: Job, frames: Sequence[Frame]) -> Iterator[tuple[str, ...]]:
    for frame in frames:
        wall = job.walls[frame.name]
        across = compass(toward(wall, frame, sides_of(wall)[0]))
        along = compass((frame.end[0] - frame.start[0], frame.end[1] - frame.start[1]))
        yield frame.name, across, "", "", along, "", f"{frame.height_mm:.0f}"
