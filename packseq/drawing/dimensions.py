"""Dimension lines: from one point to another, and running from a datum."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, dist

from packseq.drawing.canvas import View
from packseq.drawing.labels import text_width_mm
from packseq.drawing.svg import Pen, element, group, line, words
from packseq.geometry import Point

THIN = Pen(0.15)
TEXT_MM = 2.4
_TICK_MM = 1.0
_BEYOND_MM = 1.2
_TEXT_AWAY_MM = 1.7
_QUARTER_DEG = 90.5
"""A quarter turn, with room for rounding: text that runs straight up is read from the right."""


def dimension(view: View, start: Point, end: Point, away_mm: float, text: str = "") -> str:
    """Return a dimension line between two points of the ground.

    Parameters
    ----------
    view
        How ground becomes paper.
    start, end
        What is measured, in mm of the ground.
    away_mm
        How far the line lies right of the way from `start` to `end`, in mm of paper; below 0: left.
    text
        What it says; the length in whole mm unless given.
    """
    first, last = view.on(start), view.on(end)
    right = _right(first, last)
    shifted = tuple(_moved(point, right, away_mm) for point in (first, last))
    parts = [line(shifted, THIN)]
    for point, at in zip((first, last), shifted, strict=True):
        parts.append(line((point, _moved(at, right, _BEYOND_MM * _sign(away_mm))), THIN))
        parts.append(_slash(at, right))
    middle = ((shifted[0][0] + shifted[1][0]) / 2, (shifted[0][1] + shifted[1][1]) / 2)
    parts.append(_along(text or f"{dist(start, end):.0f}", middle, first, last))
    return group(parts)


def running_dimensions(
    view: View, datum: Point, points: Sequence[Point], away_mm: float, texts: Sequence[str] = ()
) -> str:
    """Return running dimensions: one line from a datum, each point with its distance from there.

    Parameters
    ----------
    view
        How ground becomes paper.
    datum
        Where the tape is held, in mm of the ground.
    points
        Points on one straight line from the datum, nearest first; those nearer to one another
        than the text is high are told in turn above and below the line.
    away_mm
        How far the line lies right of the way from the datum, in mm of paper; below 0: left.
    texts
        What each point says; its distance from the datum in whole mm unless given.

    Raises
    ------
    ValueError
        When there are no points.
    """
    if not points:
        raise ValueError("nothing to measure")
    said = texts or [f"{dist(datum, point):.0f}" for point in points]
    start, end = view.on(datum), view.on(points[-1])
    right = _right(start, end)
    base = _moved(start, right, away_mm)
    parts = [line((base, _moved(end, right, away_mm)), THIN), _ring(base)]
    parts.append(line((start, _moved(base, right, _BEYOND_MM * _sign(away_mm))), THIN))
    before, outward = base, True
    for point, text in zip(points, said, strict=True):
        on_paper = view.on(point)
        at = _moved(on_paper, right, away_mm)
        parts.append(line((on_paper, _moved(at, right, _BEYOND_MM * _sign(away_mm))), THIN))
        parts.append(_slash(at, right))
        outward = not outward if dist(before, at) < TEXT_MM * 1.2 else True
        reach = (_TEXT_AWAY_MM + text_width_mm(text, TEXT_MM) / 2) * (1 if outward else -1)
        turned = degrees(atan2(-right[1], right[0]))
        end_at = _moved(at, right, reach * _sign(away_mm))
        parts.append(words(text, end_at, TEXT_MM, turned_deg=_upright(turned), halo=True))
        before = at
    return group(parts)


def _along(text: str, middle: Point, first: Point, last: Point) -> str:
    """Return text above a line, turned with it so that it is read from below or from the right."""
    turned = degrees(atan2(first[1] - last[1], last[0] - first[0]))
    readable = _upright(turned)
    # Above, as it is read: left of the way, or right of it where the text runs against the way.
    away = _TEXT_AWAY_MM if abs(readable - turned) > 1.0 else -_TEXT_AWAY_MM
    at = _moved(middle, _right(first, last), away)
    return words(text, at, TEXT_MM, turned_deg=readable, halo=True)


def _upright(turned_deg: float) -> float:
    turned = (turned_deg + 180) % 360 - 180
    if turned > _QUARTER_DEG:
        return turned - 180
    return turned + 180 if turned <= -_QUARTER_DEG + 1 else turned


def _right(first: Point, last: Point) -> Point:
    """Return the unit vector right of the way between two points of the paper."""
    length = dist(first, last)
    if length == 0:
        raise ValueError("a dimension needs two different points")
    return ((first[1] - last[1]) / length, (last[0] - first[0]) / length)


def _moved(point: Point, towards: Point, by: float) -> Point:
    return (point[0] + towards[0] * by, point[1] + towards[1] * by)


def _sign(value: float) -> float:
    return -1.0 if value < 0 else 1.0


def _slash(at: Point, right: Point) -> str:
    along = (right[1], -right[0])
    reach = _TICK_MM / 2
    ends = ((right[0] + along[0]) * reach, (right[1] + along[1]) * reach)
    return line(((at[0] - ends[0], at[1] - ends[1]), (at[0] + ends[0], at[1] + ends[1])), Pen(0.35))


def _ring(at: Point) -> str:
    return element("circle", cx=at[0], cy=at[1], r=0.8, fill="#fff", stroke="#000", stroke_width=0.3)
