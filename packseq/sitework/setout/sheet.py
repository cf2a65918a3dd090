"""The set-out as a sheet to mark by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.sheet import Column, Section, Sheet, Table, Tick, Ticks, Words
from packseq.sitework.measuring import FIGURES_OF_THE_FILES, MEASURED, WHO_DECIDES
from packseq.sitework.setout.model import Rectangle, SetOut, Triangle
from packseq.sitework.setout.picture import set_out_picture
from packseq.sitework.setout.steps import line_name, side_of, step
from packseq.sitework.slabedges import AtEdge, level_edges, said_corners

CAUTIONS = (WHO_DECIDES, FIGURES_OF_THE_FILES, MEASURED)
TITLE = "Set-out"

_WRONG_MM = 5.0
_OVER_MM = 10_000.0


def set_out_sheet(house: House, every: Sequence[SetOut]) -> Sheet:
    """Return the sheet for the set-out of every level, lowest first."""
    sections: list[Section] = []
    for each in every:
        prefix = f"Level {each.level}: " if len(every) > 1 else ""
        sections.extend(_level(house, each, prefix))
    return Sheet(TITLE, house.scenario.name, CAUTIONS, tuple(sections))


def _level(house: House, done: SetOut, prefix: str) -> Iterator[Section]:
    at_edges = level_edges(house, done.level)
    yield Section(f"{prefix}What is marked", (Words(tuple(_intent(house, done))),))
    yield Section(f"{prefix}Drawing", (set_out_picture(house, done),))
    steps = (Tick(step(line, done, at_edges, house.scenario.slab)) for line in done.lines)
    yield Section(f"{prefix}In this order", (Ticks(tuple(steps)),))
    yield Section(f"{prefix}Lines and the walls set out from them", (_lines(done),))
    if done.rectangles:
        yield Section(f"{prefix}Diagonals to check", (Words((_DIAGONALS,)), _diagonals(done.rectangles)))
    if done.triangles:
        yield Section(f"{prefix}Squaring by 3-4-5", (_triangles(done.triangles), Words(tuple(_wrong(done)))))
    if at_edges:
        yield Section(f"{prefix}Frames' outer faces against the slab edge, as drawn", (_edges(at_edges),))


def _intent(house: House, done: SetOut) -> Iterator[str]:
    reference = done.lines[0].serves[0].wall
    yield (
        f"Each line lies {done.choices.offset_mm:g} mm off the face of the frame it is for, indoors for an "
        "external wall: it is still there to measure from when the frames stand."
    )
    zero = (
        "Its zero is where line 2 crosses it: every running dimension along it is from there, every one into "
        "the house from line 1, and the tape is never moved on."
        if done.main is not None
        else "No four lines make a rectangle on the floor."
    )
    yield f"Line 1 is for the reference wall, the {reference.name}. {zero}"
    if done.level == house.scenario.levels[0]:
        yield f"Slab corners, by x and y in mm: {said_corners(house.scenario.slab)}."
    else:
        yield "Carry line 1 up from the level below by plumbing; the edge of this floor is in no file."


_DIAGONALS = (
    "Both diagonals of a rectangle are the same and as given, from crossing to crossing. A crossing is named "
    "by its two lines: 1/2 is where lines 1 and 2 cross."
)


def _lines(done: SetOut) -> Table:
    rows = []
    for line in done.lines:
        for number, served in enumerate(line.serves):
            running = "" if line.running_mm is None else str(whole_mm(line.running_mm))
            wall = served.wall
            mark = (str(line.number), line_name(line), running) if number == 0 else ("", "", "")
            off = f"{whole_mm(served.off_mm)} {side_of(line, wall)}"
            rows.append((*mark, wall.name, " ".join(wall.frames), off))
    columns = (
        Column("line", number=True),
        Column("what it is"),
        Column("running mm", number=True),
        Column("wall"),
        Column("frames"),
        Column("nearer face, mm off the line"),
    )
    return Table(columns, tuple(rows))


def _diagonals(rectangles: Sequence[Rectangle]) -> Table:
    rows = []
    for each in rectangles:
        first, second = (" to ".join(pair) for pair in each.diagonals)
        sides = f"{whole_mm(each.along_mm)} x {whole_mm(each.across_mm)}"
        rows.append((str(each.proves), sides, first, second, str(whole_mm(each.diagonal_mm)), "", ""))
    columns = (
        Column("proves line", number=True),
        Column("sides mm"),
        Column("first diagonal"),
        Column("second diagonal"),
        Column("both mm", number=True),
        Column("first measured", to_fill_in=True),
        Column("second measured", to_fill_in=True),
    )
    return Table(columns, tuple(rows))


def _triangles(triangles: Sequence[Triangle]) -> Table:
    columns = (
        Column("stand at"),
        Column("along line 1 mm", number=True),
        Column("along the other mm", number=True),
        Column("long side mm", number=True),
        Column("measured", to_fill_in=True),
    )
    return Table(
        columns,
        tuple(
            (
                f"{each.reference}/{each.square}",
                str(whole_mm(each.along_reference_mm)),
                str(whole_mm(each.along_square_mm)),
                str(whole_mm(each.long_side_mm)),
                "",
            )
            for each in triangles
        ),
        title="The largest that fits at each end of line 1: mark the legs, measure the long side.",
    )


def _wrong(done: SetOut) -> Iterator[str]:
    each = done.triangles[0]
    yield (
        f"A long side {_WRONG_MM:g} mm too long turns the line "
        f"{abs(each.out_of_square_mm(_WRONG_MM, _OVER_MM)):.1f} mm off square in {_OVER_MM / 1000:g} m. The "
        "diagonals decide; the triangle is for finding the line."
    )


def _edges(at_edges: Sequence[AtEdge]) -> Table:
    columns = (Column("wall"), Column("slab edge"), Column("outer face, as drawn"))
    return Table(columns, tuple((each.wall.name, each.edge.name, said_over(each)) for each in at_edges))


def said_over(at_edge: AtEdge) -> str:
    """Return how a wall's outer face is drawn to lie to the slab edge, in words."""
    first, last = (whole_mm(over) for over in at_edge.drawn_mm)
    if first == last:
        return _said(first)
    return f"{_said(first)} at one end, {_said(last)} at the other"


def _said(over_mm: int) -> str:
    if over_mm == 0:
        return "flush"
    return f"{over_mm} mm over the edge" if over_mm > 0 else f"{-over_mm} mm back from the edge"
