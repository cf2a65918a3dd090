"""A floor plan in plain characters, for a terminal: rough, but a wall out of place is seen."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from itertools import chain, pairwise, product
from math import ceil, dist

from packseq.drawing.canvas import Bounds
from packseq.drawing.floorplan import Shown, drawn_ground
from packseq.drawing.frames import along, frames_of
from packseq.geometry import Point, Ring
from packseq.scenario.model import Frame

SKETCH_KEY = (
    "Walls - and |, ends +, openings with a sill = and :, openings without one left free. "
    "Packs and spots are dotted, no-go areas #, north is up."
)
"""What the characters of a sketch mean."""

_TALL = 2.0
"""A character is about twice as high as it is wide."""

_STEEP = 2.0
_MARGIN = 2


def plan_sketch(shown: Shown, columns: int = 78) -> tuple[str, ...]:
    """Return the floor plan of one level in lines of plain characters.

    Parameters
    ----------
    shown
        What to show: names without their lengths.
    columns
        Most characters in a line.
    """
    scenario = shown.house.scenario
    grid = _Grid(drawn_ground(shown), columns)
    for ring in scenario.no_go:
        grid.fill(ring, "#")
    outlines = [
        *(
            (f"pack {name}", scenario.packs[name].footprint(place))
            for name, places in shown.places.items()
            for place in places
        ),
        *((f"spot {spot.name}", spot.footprint) for spot in shown.spots),
    ]
    for _, ring in outlines:
        grid.outline(ring, ".")
    frames = frames_of(shown.house, shown.level)
    for frame in frames:
        _draw(grid, frame)
    for frame in frames:
        for end in (frame.start, frame.end):
            grid.put(end, "+")
    for name, ring in outlines:
        box = Bounds.around(ring)
        grid.name(name, ((box.left + box.right) / 2, (box.bottom + box.top) / 2))
    for frame in sorted(frames, key=lambda each: (each.length_mm, each.name)):
        grid.name(frame.name, frame.middle)
    return grid.lines()


def _draw(grid: _Grid, frame: Frame) -> None:
    grid.stroke((frame.start, frame.end), _slant(frame))
    for opening in frame.openings:
        free = not opening.sill_mm
        sign = " " if free else {"-": "=", "|": ":"}.get(_slant(frame), "=")
        near, far = opening.from_mm, opening.from_mm + opening.width_mm
        grid.stroke((along(frame, near), along(frame, far)), sign)


def _slant(frame: Frame) -> str:
    right, up = frame.end[0] - frame.start[0], frame.end[1] - frame.start[1]
    if abs(right) > _STEEP * abs(up):
        return "-"
    if abs(up) > _STEEP * abs(right):
        return "|"
    return "/" if right * up > 0 else "\\"


class _Grid:
    """Characters over a stretch of ground."""

    def __init__(self, ground: Bounds, columns: int) -> None:
        self._ground = ground
        self._wide_mm = max(ground.width / (columns - 2 * _MARGIN), 1.0)
        self._columns = columns
        self._rows = ceil(ground.height / (self._wide_mm * _TALL)) + 1
        self._cells = [[""] * columns for _ in range(self._rows)]

    def put(self, at: Point, sign: str) -> None:
        """Set the character at a point of the ground."""
        row, column = self._cell(at)
        self._cells[row][column] = sign

    def stroke(self, points: Sequence[Point], sign: str) -> None:
        """Set the characters along a line."""
        for start, end in pairwise(points):
            steps = max(1, ceil(dist(start, end) / (self._wide_mm / 2)))
            for step in range(steps + 1):
                share = step / steps
                x, y = start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
                self.put((x, y), sign)

    def outline(self, ring: Ring, sign: str) -> None:
        """Set the characters round a shape."""
        self.stroke((*ring, ring[0]), sign)

    def fill(self, ring: Ring, sign: str) -> None:
        """Set the characters in the box of a shape."""
        box = Bounds.around(ring)
        (upper, left), (lower, right) = self._cell((box.left, box.top)), self._cell((box.right, box.bottom))
        for row, column in product(range(upper, lower + 1), range(left, right + 1)):
            self._cells[row][column] = sign

    def name(self, text: str, at: Point) -> None:
        """Write a name as near to a point as there is room; where there is none it is left out."""
        letters = list(chain.from_iterable(_cells_of(letter) for letter in text))
        row, column = self._cell(at)
        first = column - len(letters) // 2
        for down, right in _nearest():
            start = (row + down, first + right)
            if self._free(*start, len(letters)):
                self._cells[start[0]][start[1] : start[1] + len(letters)] = letters
                return

    def lines(self) -> tuple[str, ...]:
        """Return the lines, empty ones at both ends left out."""
        lines = ["".join(cell or " " for cell in row).replace("\0", "").rstrip() for row in self._cells]
        told = [number for number, line in enumerate(lines) if line]
        return tuple(lines[told[0] : told[-1] + 1]) if told else ()

    def _free(self, row: int, column: int, length: int) -> bool:
        if not (0 <= row < self._rows and column >= 0 and column + length <= self._columns):
            return False
        # A free cell on either side keeps names apart.
        around = self._cells[row][max(column - 1, 0) : column + length + 1]
        inner = self._cells[row][column : column + length]
        return not any(inner) and not any(cell.isalnum() for cell in around)

    def _cell(self, at: Point) -> tuple[int, int]:
        column = _MARGIN + int((at[0] - self._ground.left) / self._wide_mm)
        row = int((self._ground.top - at[1]) / (self._wide_mm * _TALL))
        return min(max(row, 0), self._rows - 1), min(max(column, 0), self._columns - 1)


def _cells_of(letter: str) -> Iterator[str]:
    """Yield what a letter fills: itself, and for a wide one a second cell that is not written."""
    yield letter
    if unicodedata.east_asian_width(letter) in "WF":
        yield "\0"


def _nearest() -> tuple[tuple[int, int], ...]:
    """Return steps down and right, the nearest to a name's own place first; up and down count double."""
    steps = product(range(-4, 5), range(-14, 15))
    return tuple(sorted(steps, key=lambda step: (abs(step[0]) * 2 + abs(step[1]), step)))
