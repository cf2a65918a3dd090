"""From the ground to the paper, and a finished drawing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packseq.drawing.svg import FONT, element, escaped, number
from packseq.geometry import Point, Ring

SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000)
"""A drawing is 1 to one of these, or to such a number times a power of ten: round numbers."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """A stretch of ground in mm, x to the right and y upward."""

    left: float
    bottom: float
    right: float
    top: float

    @classmethod
    def around(cls, points: Iterable[Point], more_mm: float = 0.0) -> Bounds:
        """Return what holds all points and `more_mm` on every side.

        Raises
        ------
        ValueError
            When there are no points.
        """
        every = tuple(points)
        if not every:
            raise ValueError("nothing to draw")
        across, up = [x for x, _ in every], [y for _, y in every]
        return cls(min(across) - more_mm, min(up) - more_mm, max(across) + more_mm, max(up) + more_mm)

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom

    @property
    def corners(self) -> Ring:
        """The four corners, anticlockwise from the bottom left."""
        return (
            (self.left, self.bottom),
            (self.right, self.bottom),
            (self.right, self.top),
            (self.left, self.top),
        )

    def overlaps(self, other: Bounds) -> bool:
        """Tell whether two stretches share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: Bounds) -> bool:
        """Tell whether another stretch lies wholly in this one."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.bottom <= other.bottom
            and other.top <= self.top
        )


@dataclass(frozen=True, slots=True)
class View:
    """How ground becomes paper: 1 mm of paper is `one_to` mm of ground; y runs downward on paper.

    `at_mm` is where the top left corner of the ground drawn lies on the paper.
    """

    ground: Bounds
    one_to: float
    at_mm: Point = (0.0, 0.0)

    @property
    def width_mm(self) -> float:
        """Width on paper."""
        return self.ground.width / self.one_to

    @property
    def height_mm(self) -> float:
        """Height on paper."""
        return self.ground.height / self.one_to

    @property
    def paper(self) -> Bounds:
        """The stretch of paper it fills, with y downward: `top` is the lower edge."""
        left, upper = self.at_mm
        return Bounds(left, upper, left + self.width_mm, upper + self.height_mm)

    def on(self, point: Point) -> Point:
        """Return where a point of the ground lies on the paper, in mm."""
        return (
            self.at_mm[0] + (point[0] - self.ground.left) / self.one_to,
            self.at_mm[1] + (self.ground.top - point[1]) / self.one_to,
        )

    def ring(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Return where points of the ground lie on the paper, in mm."""
        return tuple(self.on(point) for point in points)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: its size in mm of paper, what it shows, its elements from back to front."""

    width_mm: float
    height_mm: float
    title: str
    parts: tuple[str, ...]

    def svg(self) -> str:
        """Return the drawing as one SVG element, to stand in a page or as a file of its own."""
        background = element("rect", width=self.width_mm, height=self.height_mm, fill="#fff")
        return element(
            "svg",
            f"<title>{escaped(self.title)}</title>{background}{''.join(self.parts)}",
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {number(self.width_mm)} {number(self.height_mm)}",
            width=f"{number(self.width_mm)}mm",
            height=f"{number(self.height_mm)}mm",
            role="img",
            font_family=FONT,
            stroke_linejoin="round",
        )


def fitted(ground: Bounds, width_mm: float, height_mm: float, at_mm: Point = (0.0, 0.0)) -> View:
    """Return the largest view of the ground at a round scale that fits a width and a height of paper."""
    need = max(ground.width / width_mm, ground.height / height_mm)
    scales = (one_to * 10**power for power in range(0, 12, 2) for one_to in SCALES)
    return View(ground, next(scale for scale in scales if scale >= need), at_mm)
