"""Small shapes that drawings share: an arrow, hatching, and boxes round what is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, dist, hypot

from shapely import LineString, MultiLineString, Polygon

from packseq.drawing.canvas import Bounds
from packseq.drawing.svg import Pen, group, line
from packseq.geometry import Point

_PIECE_MM = 1.5


def arrow(points: Sequence[Point], pen: Pen, head_mm: float = 2.4) -> str:
    """Return a line through points of the paper with an open head at its end.

    Raises
    ------
    ValueError
        When the last two points are the same, or there are no two.
    """
    before, end = points[-2:]
    length = dist(before, end)
    if length == 0:
        raise ValueError("an arrow needs two different points")
    back = ((before[0] - end[0]) / length * head_mm, (before[1] - end[1]) / length * head_mm)
    across = (-back[1] * 0.45, back[0] * 0.45)
    barbs = (
        (end[0] + back[0] + across[0], end[1] + back[1] + across[1]),
        end,
        (end[0] + back[0] - across[0], end[1] + back[1] - across[1]),
    )
    return group((line(points, pen), line(barbs, Pen(pen.width_mm, colour=pen.colour))))


def hatching(ring: Sequence[Point], apart_mm: float, pen: Pen) -> str:
    """Return slanting lines `apart_mm` from one another over a shape on the paper."""
    shape = Polygon(ring)
    left, upper, right, lower = shape.bounds
    height = lower - upper
    lines = []
    steps = ceil((right - left + height) / (apart_mm * 2**0.5))
    for step in range(1, steps):
        foot = left - height + step * apart_mm * 2**0.5
        whole = LineString(((foot, lower), (foot + height, upper)))
        cut = shape.intersection(whole)
        pieces = cut.geoms if isinstance(cut, MultiLineString) else (cut,)
        lines += [
            line([(x, y) for x, y in piece.coords], pen)
            for piece in pieces
            if isinstance(piece, LineString) and not piece.is_empty
        ]
    return group(lines)


def boxes_along(points: Iterable[Point], width_mm: float = 0.0) -> Iterator[Bounds]:
    """Yield small boxes that together cover a line on the paper, for labels to keep clear of."""
    for start, end in pairwise(points):
        level = abs(start[0] - end[0]) < width_mm + 0.1 or abs(start[1] - end[1]) < width_mm + 0.1
        pieces = 1 if level else ceil(hypot(end[0] - start[0], end[1] - start[1]) / _PIECE_MM)
        for piece in range(pieces):
            ends = tuple(
                (
                    start[0] + (end[0] - start[0]) * share / pieces,
                    start[1] + (end[1] - start[1]) * share / pieces,
                )
                for share in (piece, piece + 1)
            )
            yield Bounds.around(ends, width_mm / 2 + 0.1)
