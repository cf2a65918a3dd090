"""What stands round a drawing: north, scale bar, legend."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from packseq.drawing.canvas import View
from packseq.drawing.labels import text_width_mm
from packseq.drawing.svg import Pen, area, element, group, line, words
from packseq.geometry import Point

TEXT_MM = 2.7
_ROW_MM = 5.0
_SAMPLE_MM = 8.0
_BAR_PARTS = 4


@dataclass(frozen=True, slots=True)
class Key:
    """One line of a legend: a sample drawn in a box 8 mm wide about a point, and what it means."""

    sample: Callable[[Point], str]
    text: str


def north_mark(at: Point, size_mm: float = 9.0) -> str:
    """Return an arrow up the paper with an N: `at` is the middle of its foot. Drawings have north upward."""
    tip = (at[0], at[1] - size_mm)
    half = size_mm * 0.22
    left = area((tip, (at[0] - half, at[1]), (at[0], at[1] - half)), Pen(0.2), "#fff")
    right = area((tip, (at[0] + half, at[1]), (at[0], at[1] - half)), Pen(0.2), "#000")
    return group((left, right, words("N", (at[0], tip[1] - 2.4), 3.6, bold=True)))


def scale_bar(view: View, at: Point, *, scale_told: bool = True) -> str:
    """Return a bar of four parts with its lengths in metres and, unless it changes size, the scale.

    `at` is the bar's left end; the bar is about 40 mm long, a round number of metres.
    """
    part_mm = max(
        size * 10**power
        for power in range(1, 8)
        for size in (1, 2, 2.5, 5)
        if size * 10**power * _BAR_PARTS / view.one_to <= 45 or (size, power) == (1, 1)  # noqa: PLR2004
    )
    step = part_mm / view.one_to
    parts = []
    for place in range(_BAR_PARTS):
        left = at[0] + place * step
        fill = "#000" if place % 2 == 0 else "#fff"
        corners = (
            (left, at[1] - 0.8),
            (left + step, at[1] - 0.8),
            (left + step, at[1] + 0.8),
            (left, at[1] + 0.8),
        )
        parts.append(area(corners, Pen(0.2), fill))
    parts += [
        words(f"{place * part_mm / 1000:g}", (at[0] + place * step, at[1] - 2.6), TEXT_MM)
        for place in range(_BAR_PARTS + 1)
    ]
    told = f"m   (1:{view.one_to:g} when printed full size)" if scale_told else "m"
    parts.append(words(told, (at[0] + _BAR_PARTS * step + 3, at[1] - 2.6), TEXT_MM, anchor="start"))
    return group(parts)


def legend(keys: Sequence[Key], at: Point, width_mm: float) -> tuple[str, float]:
    """Return a legend whose top left corner is `at`, and how high it is in mm of paper."""
    x, row = at[0], 0
    parts = []
    for key in keys:
        needed = _SAMPLE_MM + 1.5 + text_width_mm(key.text, TEXT_MM) + 4
        if x + needed - 4 > at[0] + width_mm and x > at[0]:
            x, row = at[0], row + 1
        middle = at[1] + (row + 0.5) * _ROW_MM
        parts.append(key.sample((x + _SAMPLE_MM / 2, middle)))
        parts.append(words(key.text, (x + _SAMPLE_MM + 1.5, middle), TEXT_MM, anchor="start"))
        x += needed
    return group(parts), (row + 1) * _ROW_MM if keys else 0.0


def line_sample(pen: Pen) -> Callable[[Point], str]:
    """Return a sample of a line."""
    return lambda at: line(((at[0] - _SAMPLE_MM / 2, at[1]), (at[0] + _SAMPLE_MM / 2, at[1])), pen)


def box_sample(pen: Pen, fill: str = "none") -> Callable[[Point], str]:
    """Return a sample of a shape."""
    return lambda at: element(
        "rect",
        x=at[0] - _SAMPLE_MM / 2,
        y=at[1] - 1.5,
        width=_SAMPLE_MM,
        height=3,
        fill=fill,
        stroke=pen.colour,
        stroke_width=pen.width_mm,
        stroke_dasharray=pen.dashes,
    )
