"""A pack, drawn from the side and from above."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from packseq.drawing.canvas import Bounds, Drawing, View, fitted
from packseq.drawing.dimensions import dimension
from packseq.drawing.labels import text_width_mm
from packseq.drawing.svg import Pen, area, line, words
from packseq.geometry import Point, Ring
from packseq.scenario.model import Pack, Scenario

_EDGE = Pen(0.35)
_UNDER = Pen(0.2, "1.5 1")
_LEADER = Pen(0.15)
_TEXT_MM = 2.9
_ROW_MM = 4.2
_WORDS_MM = 62.0
_HEAD_MM = 7.0
_DIMENSION_MM = 5.0
_FOOT_MM = 8.0


@dataclass(frozen=True, slots=True)
class Lying:
    """A frame lying flat in a layer, in mm.

    `from_mm` and `across_mm` run from the pack's left end and lower side to the frame's. `width_mm`
    is the frame's height, which lies across the pack.
    """

    name: str
    from_mm: float
    length_mm: float
    across_mm: float
    width_mm: float
    thickness_mm: float


Layers = Sequence[Sequence[Lying]]


def lying_layers(scenario: Scenario, pack: Pack) -> tuple[tuple[Lying, ...], ...]:
    """Return a pack's layers as they are drawn, top first: end to end from the left in the order given.

    packs.csv does not say where in its layer a frame lies. Frames that would reach past the pack's
    end lie beside the others, from the left again.
    """
    return tuple(tuple(_in_layer(scenario, pack, layer)) for layer in pack.layers)


def pack_from_side(
    title: str, layers: Layers, *, width_mm: float = 180.0, numbers: Sequence[int] | None = None
) -> Drawing:
    """Draw a pack from the side, top layer on top, each layer with its frames' names beside it.

    Parameters
    ----------
    title
        What is drawn, such as "Pack A from the side".
    layers
        The layers, top first.
    width_mm
        Width of paper to fit on.
    numbers
        The layers' numbers; from 1 on unless given.

    Raises
    ------
    ValueError
        When there are no layers.
    """
    heights = [max(lying.thickness_mm for lying in layer) for layer in layers]
    length = max(lying.from_mm + lying.length_mm for layer in layers for lying in layer)
    ground = Bounds(0.0, 0.0, length, sum(heights))
    view = fitted(ground, width_mm - _WORDS_MM, 120.0, (1.0, _HEAD_MM))
    rows_mm = len(layers) * _ROW_MM
    tall_mm = max(view.height_mm, rows_mm)
    view = View(ground, view.one_to, (1.0, _HEAD_MM + (tall_mm - view.height_mm) / 2))
    first_row = _HEAD_MM + (tall_mm - rows_mm) / 2 + _ROW_MM / 2
    parts = [words(title, (1.0, 2.5), 3.4, anchor="start", bold=True)]
    top = ground.top
    for order, (layer, height) in enumerate(zip(layers, heights, strict=True)):
        parts += [_from_side(lying, top - height, view) for lying in layer]
        row = first_row + order * _ROW_MM
        end = view.on((length, top - height / 2))
        parts.append(line((end, (end[0] + 2, end[1]), (end[0] + 7, row), (end[0] + 9, row)), _LEADER))
        told = (
            f"{order + 1 if numbers is None else numbers[order]}:  {', '.join(lying.name for lying in layer)}"
        )
        parts.append(words(told, (end[0] + 10, row), _TEXT_MM, anchor="start"))
        top -= height
    widest = max(text_width_mm(", ".join(lying.name for lying in layer), _TEXT_MM) for layer in layers)
    parts.append(dimension(view, (0.0, 0.0), (length, 0.0), _DIMENSION_MM))
    right = max(width_mm, view.paper.right + 18 + widest)
    return Drawing(right, _HEAD_MM + tall_mm + _FOOT_MM, title, tuple(parts))


def pack_from_above(title: str, layers: Layers, shown: int = 0, *, width_mm: float = 120.0) -> Drawing:
    """Draw one layer of a pack from above, the layer under it dashed.

    Parameters
    ----------
    title
        What is drawn, such as "Pack A, layer 1 from above".
    layers
        The layers, top first.
    shown
        Which layer, 0 on top.
    width_mm
        Width of paper to fit on.

    Raises
    ------
    IndexError
        When there is no such layer.
    """
    every = tuple(chain.from_iterable(layers))
    ground = Bounds.around(chain.from_iterable(_from_above(lying) for lying in every))
    view = fitted(ground, width_mm - 2 * _FOOT_MM, 120.0, (_FOOT_MM, _HEAD_MM))
    parts = [words(title, (1.0, 2.5), 3.4, anchor="start", bold=True)]
    if shown + 1 < len(layers):
        parts += [area(view.ring(_from_above(lying)), _UNDER) for lying in layers[shown + 1]]
    for lying in layers[shown]:
        ring = view.ring(_from_above(lying))
        parts.append(area(ring, _EDGE))
        parts.append(_name(lying.name, ring))
    bottom_left, bottom_right, _, top_left = ground.corners
    parts.append(dimension(view, bottom_left, bottom_right, _DIMENSION_MM))
    parts.append(dimension(view, top_left, bottom_left, _DIMENSION_MM))
    return Drawing(max(width_mm, view.paper.right + 1), view.paper.top + _FOOT_MM, title, tuple(parts))


def _in_layer(scenario: Scenario, pack: Pack, layer: Sequence[str]) -> Iterator[Lying]:
    reached = across = 0.0
    row_width = 0.0
    for name in layer:
        frame = scenario.frames[name]
        if reached and reached + frame.length_mm > pack.length_mm:
            reached, across, row_width = 0.0, across + row_width, 0.0
        yield Lying(name, reached, frame.length_mm, across, frame.height_mm, frame.thickness_mm)
        reached += frame.length_mm
        row_width = max(row_width, frame.height_mm)


def _from_side(lying: Lying, bottom: float, view: View) -> str:
    left, right = lying.from_mm, lying.from_mm + lying.length_mm
    top = bottom + lying.thickness_mm
    return area(view.ring(((left, bottom), (right, bottom), (right, top), (left, top))), _EDGE, "#fff")


def _from_above(lying: Lying) -> Ring:
    left, right = lying.from_mm, lying.from_mm + lying.length_mm
    lower, upper = lying.across_mm, lying.across_mm + lying.width_mm
    return ((left, lower), (right, lower), (right, upper), (left, upper))


def _name(name: str, ring: Sequence[Point]) -> str:
    box = Bounds.around(ring)
    at = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    upward = text_width_mm(name, _TEXT_MM) > box.width
    return words(name, at, _TEXT_MM, bold=True, turned_deg=90.0 if upward else 0.0, halo=True)
