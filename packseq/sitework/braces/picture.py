"""The braces drawn to scale: where each comes down, and the ties over the top plates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.furniture import north_mark, scale_bar
from packseq.drawing.ground import drawn_no_go, drawn_slab
from packseq.drawing.svg import Pen, area, element, group, line, words
from packseq.geometry import Point, middle
from packseq.house.model import House
from packseq.scenario.model import Frame
from packseq.sheet import Picture
from packseq.sitework.braces.placing import Brace

_PAPER_MM = (180.0, 190.0)
_HEAD_MM = 20.0
_EDGE_MM = 3.0
_FOOT_MM = 12.0
_LABEL_MM = 2.2
_FOOT_MARK_MM = 0.9

_FRAME = Pen(0.15, colour="#777")
_BRACE = Pen(0.45)
_TIE = Pen(0.45, "2 1")
_MARK = Pen(0.3)


def braces_picture(house: House, level: int, braces: Iterable[Brace]) -> Picture:
    """Draw the braces of one level over its frames, each with its name where it comes down."""
    scenario = house.scenario
    own = [brace for brace in braces if brace.frame.level == level]
    frames = [frame for frame in scenario.frames.values() if frame.level == level]
    feet = [brace.way.foot for brace in own if brace.way is not None]
    points = chain(scenario.slab, chain.from_iterable(frame.footprint for frame in frames), feet)
    tight = Bounds.around(points)
    ground = Bounds.around(tight.corners, 0.04 * max(tight.width, tight.height))
    room = (_PAPER_MM[0] - 2 * _EDGE_MM, _PAPER_MM[1] - _HEAD_MM - _FOOT_MM)
    view = fitted(ground, *room, (_EDGE_MM, _HEAD_MM))
    width_mm = view.paper.right + _EDGE_MM
    parts = (
        north_mark((width_mm - 6.0, 14.0)),
        drawn_slab(scenario.slab, view),
        *(drawn_no_go(ring, view) for ring in scenario.no_go),
        group(area(view.ring(frame.footprint), _FRAME, "#ddd") for frame in frames),
        *chain.from_iterable(_drawn(house, brace, view) for brace in own),
        group(_named(frame, view) for frame in frames),
        scale_bar(view, (_EDGE_MM + 2.0, view.paper.top + 5.0)),
    )
    title = f"Temporary braces, level {level}" if len(house.levels) > 1 else "Temporary braces"
    caption = (
        f"{title}: each line runs from the top of its frame to its foot (square: fixed to slab or floor, or "
        "pegged). Dashed: ties over the top plates."
    )
    drawing = Drawing(width_mm, view.paper.top + _FOOT_MM, f"{title}: {scenario.name}", parts)
    return Picture(drawing.svg(), caption)


def _drawn(house: House, brace: Brace, view: View) -> Iterator[str]:
    if brace.way is not None:
        face, foot = view.on(brace.way.face), view.on(brace.way.foot)
        yield line((face, foot), _BRACE)
        yield _square(foot)
        yield words(brace.name, _beyond(face, foot), _LABEL_MM, halo=True)
    elif brace.tie is not None:
        (x1, y1), (x2, y2) = brace.frame.start, brace.frame.end
        part = brace.tie.at_mm / brace.frame.length_mm
        start = (x1 + (x2 - x1) * part, y1 + (y2 - y1) * part)
        ends = view.on(start), view.on(_across(house.scenario.frames[brace.tie.to], start))
        yield line(ends, _TIE)
        yield words(brace.name, middle(*ends), _LABEL_MM, halo=True)


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


def _beyond(face: Point, foot: Point) -> Point:
    """Return a place a little past the foot, for its name."""
    dx, dy = foot[0] - face[0], foot[1] - face[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    return (foot[0] + dx / length * 2.4, foot[1] + dy / length * 2.4)


def _named(frame: Frame, view: View) -> str:
    return words(frame.name, view.on(frame.middle), 2.0, halo=True)
