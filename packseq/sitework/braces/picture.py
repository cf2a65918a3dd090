"""The braces drawn to scale: where each comes down, and the ties over the top plates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, product
from math import dist

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.frames import along, frame_boxes, frames_of
from packseq.drawing.furniture import north_mark, scale_bar
from packseq.drawing.ground import drawn_no_go, drawn_slab
from packseq.drawing.labels import Choice, Label, Line, Placed, beside, box_size_mm, placed
from packseq.drawing.shapes import boxes_along
from packseq.drawing.svg import Pen, area, element, group, line
from packseq.geometry import Point
from packseq.house.model import House
from packseq.scenario.model import Frame
from packseq.sheet import Picture
from packseq.sitework.braces.placing import Brace

_PAPER_MM = (180.0, 190.0)
_HEAD_MM = 20.0
_EDGE_MM = 3.0
_FOOT_MM = 12.0
_LABEL_MM = 2.2
_FRAME_LABEL_MM = 2.0
_NEAR_MM = 0.4
_FURTHER_MM = (3.0, 5.0, 8.0, 12.0)
_FOOT_MARK_MM = 0.9

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
"""How far along a frame its name may lie."""

_FROM_FOOT = (0.0, 0.2, 0.35, 0.5, 0.65, 0.8)
"""How far back from its foot a brace's name may lie, as a share of the brace."""

_FRAME = Pen(0.15, colour="#777")
_BRACE = Pen(0.45)
_TIE = Pen(0.45, "2 1")
_MARK = Pen(0.3)

Ends = tuple[Point, Point]


def braces_picture(house: House, level: int, braces: Iterable[Brace]) -> Picture:
    """Draw the braces of one level over its frames, each with its name where it hides least."""
    scenario = house.scenario
    own = [brace for brace in braces if brace.frame.level == level]
    frames = frames_of(house, level)
    view = braces_view(house, level, own)
    width_mm = view.paper.right + _EDGE_MM
    parts = (
        north_mark((width_mm - 6.0, 14.0)),
        drawn_slab(scenario.slab, view),
        *(drawn_no_go(ring, view) for ring in scenario.no_go),
        group(area(view.ring(frame.footprint), _FRAME, "#ddd") for frame in frames),
        *chain.from_iterable(_drawn(house, brace, view) for brace in own),
        *(label.svg() for label in brace_labels(house, level, own, view)),
        scale_bar(view, (_EDGE_MM + 2.0, view.paper.top + 5.0)),
    )
    title = f"Temporary braces, level {level}" if len(house.levels) > 1 else "Temporary braces"
    caption = (
        f"{title}: each line runs from the top of its frame to its foot (square: fixed to slab or floor, or "
        "pegged). Dashed: ties over the top plates."
    )
    drawing = Drawing(width_mm, view.paper.top + _FOOT_MM, f"{title}: {scenario.name}", parts)
    return Picture(drawing.svg(), caption)


def braces_view(house: House, level: int, braces: Iterable[Brace]) -> View:
    """Return the view that shows slab, frames and the feet of the braces of one level."""
    feet = [brace.way.foot for brace in braces if brace.way is not None]
    frames = chain.from_iterable(frame.footprint for frame in frames_of(house, level))
    tight = Bounds.around(chain(house.scenario.slab, frames, feet))
    ground = Bounds.around(tight.corners, 0.04 * max(tight.width, tight.height))
    room = (_PAPER_MM[0] - 2 * _EDGE_MM, _PAPER_MM[1] - _HEAD_MM - _FOOT_MM)
    return fitted(ground, *room, (_EDGE_MM, _HEAD_MM))


def brace_labels(house: House, level: int, braces: Iterable[Brace], view: View) -> tuple[Placed, ...]:
    """Return the names of braces, then of frames, each where it hides least."""
    frames = frames_of(house, level)
    on_paper = {brace.name: ends for brace in braces if (ends := _ends(house, brace, view)) is not None}
    boxes = [
        *chain.from_iterable(frame_boxes(frame, view) for frame in frames),
        *chain.from_iterable(boxes_along(ends, _FOOT_MARK_MM) for ends in on_paper.values()),
    ]
    labels = (
        *(Label(tuple(_beside_brace(name, ends))) for name, ends in on_paper.items()),
        *(Label(tuple(_beside_frame(frame, view))) for frame in frames),
    )
    return placed(labels, boxes, view.paper)


def _drawn(house: House, brace: Brace, view: View) -> Iterator[str]:
    ends = _ends(house, brace, view)
    if ends is not None:
        yield line(ends, _TIE if brace.way is None else _BRACE)
        if brace.way is not None:
            yield _square(ends[1])


def _ends(house: House, brace: Brace, view: View) -> Ends | None:
    """Return a brace on paper from its top to its foot, or a tie from end to end; None where neither is."""
    if brace.way is not None:
        return view.on(brace.way.face), view.on(brace.way.foot)
    if brace.tie is None:
        return None
    start = along(brace.frame, brace.tie.at_mm)
    return view.on(start), view.on(_across(house.scenario.frames[brace.tie.to], start))


def _beside_brace(name: str, ends: Ends) -> Iterator[Choice]:
    """Yield past the foot, beside the brace, then further off with a leader."""
    lines = (Line(name, _LABEL_MM),)
    size = box_size_mm(lines)
    out = _unit(*ends)
    sides = ((-out[1], out[0]), (out[1], -out[0]))
    half = _FOOT_MARK_MM / 2
    yield Choice(lines, beside(ends[1], out, size, half + _NEAR_MM))
    spread = [_between(ends[1], ends[0], share) for share in _FROM_FOOT]
    for at, side in product(spread, sides):
        yield Choice(lines, beside(at, side, size, half + _NEAR_MM))
    for gap, at, side in product(_FURTHER_MM, spread, (out, *sides)):
        yield Choice(lines, beside(at, side, size, half + gap), leads_to=at)


def _beside_frame(frame: Frame, view: View) -> Iterator[Choice]:
    lines = (Line(frame.name, _FRAME_LABEL_MM),)
    size = box_size_mm(lines)
    ends = view.on(frame.start), view.on(frame.end)
    ahead = _unit(*ends)
    sides = ((-ahead[1], ahead[0]), (ahead[1], -ahead[0]))
    half = frame.thickness_mm / view.one_to / 2
    spread = [_between(*ends, share) for share in _SHARES]
    for at, side in product(spread, sides):
        yield Choice(lines, beside(at, side, size, half + _NEAR_MM))
    for gap, at, side in product(_FURTHER_MM, spread, sides):
        yield Choice(lines, beside(at, side, size, half + gap), leads_to=at)


def _unit(start: Point, end: Point) -> Point:
    length = max(dist(start, end), 1e-9)
    return ((end[0] - start[0]) / length, (end[1] - start[1]) / length)


def _between(start: Point, end: Point, share: float) -> Point:
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)


def _across(frame: Frame, point: Point) -> Point:
    """Return the point of a frame's line that lies square across from a point."""
    (x1, y1), (x2, y2) = frame.start, frame.end
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / frame.length_mm**2
    held = min(max(along, 0.0), 1.0)
    return (x1 + (x2 - x1) * held, y1 + (y2 - y1) * held)


def _square(at: Point) -> str:
    half = _FOOT_MARK_MM / 2
    side = element(
        "rect", x=at[0] - half, y=at[1] - half, width=_FOOT_MARK_MM, height=_FOOT_MARK_MM, fill="#fff"
    )
    x, y = at
    corners = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
    return side + area(corners, _MARK)
