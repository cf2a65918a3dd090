"""What is set out: lines, what each serves, rectangles to check them by, the squaring triangle."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from packseq.geometry import Point
from packseq.sitework.usual import OFFSET_MM, REACH_MM
from packseq.sitework.walls import Wall

Role = Literal["reference", "square", "closing", "external", "internal"]
Lie = Literal["along", "across", "skew"]


@dataclass(frozen=True, slots=True)
class Choices:
    """How far lines lie off frames' faces, and how far a wall may lie off the line that it shares, in mm."""

    offset_mm: float = OFFSET_MM
    reach_mm: float = REACH_MM


@dataclass(frozen=True, slots=True)
class Served:
    """A wall set out from a line: `off_mm` lies between the line and the wall's nearer face."""

    wall: Wall
    off_mm: float


@dataclass(frozen=True, slots=True)
class GridLine:
    """A line to mark.

    `number` is its place in the order of marking. It lies `along` the reference wall, `across` it at a
    right angle, or `skew`; its direction is `along_unit`. `running_mm` is its running dimension: from the
    reference line if it lies along, from the zero of the reference line if across, and if skew None:
    then `start` and `end` say where it is. They are the ends of the stretch to snap, on the plan.
    `marked_on` are the two lines, marked before it, on which its place is marked; fewer for the first
    lines, which are marked off the slab edge or squared.
    """

    number: int
    role: Role
    lie: Lie
    running_mm: float | None
    start: Point
    end: Point
    serves: tuple[Served, ...]
    marked_on: tuple[int, ...] = ()

    @property
    def along_unit(self) -> Point:
        """Unit vector from start to end."""
        length = math.dist(self.start, self.end)
        return ((self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length)

    def crossing(self, other: GridLine) -> Point | None:
        """Return where two lines, carried on, cross on the plan; None if they are parallel."""
        (ux, uy), (vx, vy) = self.along_unit, other.along_unit
        turn = ux * vy - uy * vx
        if abs(turn) < 1e-3:  # noqa: PLR2004 - less than 0.06 degrees: one direction
            return None
        dx, dy = other.start[0] - self.start[0], other.start[1] - self.start[1]
        along = (dx * vy - dy * vx) / turn
        return (self.start[0] + along * ux, self.start[1] + along * uy)


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Four lines whose crossings make a rectangle: two along the reference wall, two across it.

    `proves` is the line whose place and squareness its diagonals check; sides and diagonal in mm.
    """

    proves: int
    along: tuple[int, int]
    across: tuple[int, int]
    along_mm: float
    across_mm: float

    @property
    def diagonal_mm(self) -> float:
        """What both diagonals are to be."""
        return math.hypot(self.along_mm, self.across_mm)

    @property
    def diagonals(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """The two diagonals, each from crossing to crossing: ``("1/2", "4/3")``."""
        (near, far), (first, second) = self.along, self.across
        return (
            (f"{near}/{first}", f"{far}/{second}"),
            (f"{near}/{second}", f"{far}/{first}"),
        )


@dataclass(frozen=True, slots=True)
class Triangle:
    """A 3-4-5 triangle to square a line by: its right angle at a crossing, one leg along each line.

    `unit_mm` is a fifth of the long side.
    """

    reference: int
    square: int
    corner: Point
    along_reference_mm: float
    along_square_mm: float
    unit_mm: float
    leg_ends: tuple[Point, Point]

    @property
    def long_side_mm(self) -> float:
        """The side across, five units."""
        return 5 * self.unit_mm

    def out_of_square_mm(self, wrong_mm: float, over_mm: float) -> float:
        """Return how far a line runs off over a length when the long side is wrong by so much.

        By the law of cosines: cos g = (a2 + b2 - c2) / 2ab; the line runs off ``over_mm`` times the tangent
        of what g lies off 90 degrees.
        """
        first, second = self.along_reference_mm, self.along_square_mm
        wrong = self.long_side_mm + wrong_mm
        cosine = (first**2 + second**2 - wrong**2) / (2 * first * second)
        return over_mm * math.tan(math.acos(cosine) - math.pi / 2)


@dataclass(frozen=True, slots=True)
class SetOut:
    """The set-out of one level.

    `zero` is where running dimensions along the reference line begin; `forward` is the unit vector of
    the reference line from there, `inward` the one square to it, into the house. The first of the
    `rectangles` is the largest one; there are none where no four lines make one on the slab.
    """

    level: int
    choices: Choices
    zero: Point
    forward: Point
    inward: Point
    lines: tuple[GridLine, ...]
    rectangles: tuple[Rectangle, ...]
    triangles: tuple[Triangle, ...]

    @property
    def main(self) -> Rectangle | None:
        """The rectangle of the reference line, the two square to it and the closing line."""
        return self.rectangles[0] if self.rectangles else None

    def line(self, number: int) -> GridLine:
        """Return a line by its number."""
        return self.lines[number - 1]

    def serving(self, wall: str) -> tuple[GridLine, float] | None:
        """Return the line that a wall is set out from, and how far off its face; None if there is none."""
        for line in self.lines:
            for served in line.serves:
                if served.wall.name == wall:
                    return line, served.off_mm
        return None
