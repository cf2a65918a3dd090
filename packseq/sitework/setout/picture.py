"""The set-out drawn to scale."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.dimensions import running_dimensions
from packseq.drawing.furniture import north_mark, scale_bar
from packseq.drawing.ground import drawn_slab
from packseq.drawing.svg import Pen, area, element, group, line, words
from packseq.geometry import Point
from packseq.house.model import House
from packseq.sheet import Picture
from packseq.sitework.setout.model import GridLine, SetOut, Triangle
from packseq.sitework.slabedges import corners_at, slab_edges

_PAPER_MM = (180.0, 190.0)
_MARGIN_MM = 22.0
_FOOT_MM = 14.0
_DIMENSIONS_MM = 7.0
_BUBBLE_MM = 2.3
_BEYOND_MM = 3.5
_ASIDE_MM = 3.5

_FRAME = Pen(0.12, colour="#777")
_FIRST = Pen(0.5)
_LINE = Pen(0.3, "5 1 1 1")
_DIAGONAL = Pen(0.15, "1 1")
_TRIANGLE = Pen(0.25, "2.5 1")


def set_out_picture(house: House, done: SetOut) -> Picture:
    """Draw the lines of one level over its frames, with running dimensions from zero."""
    scenario = house.scenario
    ground = Bounds.around(chain(scenario.slab, *((each.start, each.end) for each in done.lines)))
    room = (_PAPER_MM[0] - 2 * _MARGIN_MM, _PAPER_MM[1] - 2 * _MARGIN_MM - _FOOT_MM)
    view = fitted(ground, *room, (_MARGIN_MM, _MARGIN_MM))
    width_mm, height_mm = view.paper.right + _MARGIN_MM, view.paper.top + _MARGIN_MM
    frames = (frame for frame in scenario.frames.values() if frame.level == done.level)
    parts = (
        drawn_slab(scenario.slab, view),
        group(area(view.ring(frame.footprint), _FRAME, "#eee") for frame in frames),
        *(_triangle(each, view) for each in done.triangles[:1]),
        *_diagonals(done, view),
        *chain.from_iterable(_line(each, done, view) for each in done.lines),
        *_corner_names(house, done, view),
        *_dimensions(done, ground, view),
        north_mark((width_mm - 5.0, 13.0)),
        scale_bar(view, (5.0, height_mm + 5.0)),
    )
    title = f"Lines to mark, level {done.level}" if len(house.levels) > 1 else "Lines to mark"
    caption = (
        f"{title}, numbered in order; running dimensions in mm from zero and from line 1. Dotted: the "
        "diagonals of the main rectangle. Dashed: the 3-4-5 triangle."
    )
    drawing = Drawing(width_mm, height_mm + _FOOT_MM, f"{title}: {scenario.name}", parts)
    return Picture(drawing.svg(), caption)


def _corner_names(house: House, done: SetOut, view: View) -> Iterator[str]:
    """Yield the names of the slab's corners, each off the slab as both its edges face."""
    if done.level != house.scenario.levels[0]:
        return
    slab = house.scenario.slab
    at = corners_at(slab)
    edges = slab_edges(slab)
    for edge, following in zip(edges, [*edges[1:], edges[0]], strict=True):
        (ax, ay), (bx, by) = edge.outward(at), following.outward(at)
        x, y = view.on(at[following.corners[0]])
        yield words(
            following.corners[0], (x + _ASIDE_MM * (ax + bx), y - _ASIDE_MM * (ay + by)), 2.4, halo=True
        )


def _triangle(each: Triangle, view: View) -> str:
    return area(view.ring((each.corner, *each.leg_ends)), _TRIANGLE)


def _diagonals(done: SetOut, view: View) -> Iterator[str]:
    if done.main is None:
        return
    for names in done.main.diagonals:
        ends = []
        for name in names:
            first, second = (done.line(int(number)) for number in name.split("/"))
            at = first.crossing(second)
            if at is not None:
                ends.append(at)
        yield line(view.ring(ends), _DIAGONAL)


def _line(each: GridLine, done: SetOut, view: View) -> Iterator[str]:
    """Yield a line and its number, past the end that lies away from the running dimensions."""
    start, end = view.on(each.start), view.on(each.end)
    axis = done.forward if each.lie == "along" else done.inward
    if axis[0] * (each.end[0] - each.start[0]) + axis[1] * (each.end[1] - each.start[1]) < 0:
        start, end = end, start
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dy * dy) ** 0.5
    at = (end[0] + dx / length * _BEYOND_MM, end[1] + dy / length * _BEYOND_MM)
    yield line((start, at), _FIRST if each.role in {"reference", "square", "closing"} else _LINE)
    circle = element("circle", cx=at[0], cy=at[1], r=_BUBBLE_MM, fill="#fff", stroke="#000", stroke_width=0.3)
    yield group((circle, words(str(each.number), at, 2.6, bold=True)))


def _dimensions(done: SetOut, ground: Bounds, view: View) -> Iterator[str]:
    """Yield the running dimensions along the reference line and square to it, outside all that is drawn."""
    along, across = (
        sorted(
            each.running_mm
            for each in done.lines
            if each.lie == lie and each.running_mm is not None and each.role != "reference"
        )
        for lie in ("across", "along")
    )
    left = 1.0 if done.forward[0] * done.inward[1] - done.forward[1] * done.inward[0] > 0 else -1.0
    corners = [_local(done, point) for point in ground.corners]
    first_u, first_v = min(u for u, _ in corners), min(v for _, v in corners)
    points = [_put(done, value, first_v) for value in along if value > 0]
    if points:
        yield running_dimensions(view, _put(done, 0.0, first_v), points, left * _DIMENSIONS_MM)
    points = [_put(done, first_u, value) for value in across if value > 0]
    if points:
        yield running_dimensions(view, _put(done, first_u, 0.0), points, -left * _DIMENSIONS_MM)


def _local(done: SetOut, point: Point) -> Point:
    x, y = point[0] - done.zero[0], point[1] - done.zero[1]
    return (
        x * done.forward[0] + y * done.forward[1],
        x * done.inward[0] + y * done.inward[1],
    )


def _put(done: SetOut, along_mm: float, inward_mm: float) -> Point:
    return (
        done.zero[0] + along_mm * done.forward[0] + inward_mm * done.inward[0],
        done.zero[1] + along_mm * done.forward[1] + inward_mm * done.inward[1],
    )
