"""Labels that do not lie on one another: each has places to choose from and takes the freest."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import inf

from packseq.drawing.canvas import Bounds
from packseq.drawing.shapes import boxes_along
from packseq.drawing.svg import Pen, element, group, line, words
from packseq.geometry import Point

_LINE_HEIGHT = 1.1
"""Height of a line of text, in heights of its font."""

_LETTER_WIDTH = 0.6
_WIDE_LETTER = 1.0
"""Widths of a letter, in heights of the font: rather more than in the usual sans-serif fonts."""

_LEADER = Pen(0.15)
_DOT_MM = 0.45

_ON_LABEL, _ON_DRAWN, _OUTSIDE = 1000.0, 150.0, 5000.0
_LEADER_ON_LABEL, _LEADER_ON_DRAWN = 1000.0, 4.0
"""What it costs a label to lie on another one, on something drawn, or off the paper; and its leader."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a label."""

    text: str
    size_mm: float
    bold: bool = False
    class_: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to set a label: its lines, the centre of its box in mm of paper, and how it lies.

    `upward` turns it so that it is read from the right. `leads_to` is the point that a thin line
    leads to, for a label that does not lie beside what it speaks of.
    """

    lines: tuple[Line, ...]
    at: Point
    upward: bool = False
    leads_to: Point | None = None

    @property
    def box(self) -> Bounds:
        """The box that the text fills, in mm of paper, y downward."""
        width, height = box_size_mm(self.lines)
        if self.upward:
            width, height = height, width
        x, y = self.at
        return Bounds(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    @property
    def leader(self) -> tuple[Point, Point] | None:
        """The line from the edge of the box to what the label speaks of, where there is one."""
        if self.leads_to is None:
            return None
        box, (x, y) = self.box, self.leads_to
        nearest = (min(max(x, box.left), box.right), min(max(y, box.bottom), box.top))
        return nearest, self.leads_to


@dataclass(frozen=True, slots=True)
class Label:
    """What a label may choose from, the best first; `attributes` go on its group."""

    choices: tuple[Choice, ...]
    attributes: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with the choice it took."""

    label: Label
    choice: Choice

    @property
    def box(self) -> Bounds:
        """The box that its text fills, in mm of paper, y downward."""
        return self.choice.box

    def svg(self) -> str:
        """Return the label, with its leader if it has one."""
        return group((*self._leader(), *self._lines()), **dict(self.label.attributes))

    def _leader(self) -> Iterator[str]:
        ends = self.choice.leader
        if ends is not None:
            yield line(ends, _LEADER)
            yield element("circle", cx=ends[1][0], cy=ends[1][1], r=_DOT_MM)

    def _lines(self) -> Iterator[str]:
        x, y = self.choice.at
        down = -box_size_mm(self.choice.lines)[1] / 2
        for each in self.choice.lines:
            height = each.size_mm * _LINE_HEIGHT
            shift = down + height / 2
            at = (x + shift, y) if self.choice.upward else (x, y + shift)
            turned_deg = 90.0 if self.choice.upward else 0.0
            yield words(
                each.text,
                at,
                each.size_mm,
                bold=each.bold,
                turned_deg=turned_deg,
                halo=True,
                class_=each.class_,
            )
            down += height


def text_width_mm(text: str, size_mm: float) -> float:
    """Return about how wide a text is, rather too much than too little."""
    wide = sum(unicodedata.east_asian_width(letter) in "WF" for letter in text)
    return size_mm * (wide * _WIDE_LETTER + (len(text) - wide) * _LETTER_WIDTH)


def box_size_mm(lines: Sequence[Line]) -> tuple[float, float]:
    """Return the width and height of lines one below the other."""
    width = max(text_width_mm(each.text, each.size_mm) for each in lines)
    return width, sum(each.size_mm * _LINE_HEIGHT for each in lines)


def beside(at: Point, towards: Point, size_mm: tuple[float, float], gap_mm: float) -> Point:
    """Return where a box's centre lies so that the box clears a point by `gap_mm` in a direction.

    `towards` is a unit vector on paper.
    """
    reach = abs(towards[0]) * size_mm[0] / 2 + abs(towards[1]) * size_mm[1] / 2 + gap_mm
    return (at[0] + towards[0] * reach, at[1] + towards[1] * reach)


def placed(labels: Iterable[Label], drawn: Sequence[Bounds], paper: Bounds) -> tuple[Placed, ...]:
    """Give every label the choice by which it hides least.

    Labels are placed in the order given: those with the least choice belong first.

    Parameters
    ----------
    labels
        The labels.
    drawn
        Boxes of what is drawn and should be seen, in mm of paper.
    paper
        What a label must not stick out of.
    """
    taken: list[Placed] = []
    leaders: list[Bounds] = []
    for label in labels:
        boxes = [other.box for other in taken]
        chosen = _best(label.choices, boxes, [*drawn, *leaders], paper)
        taken.append(Placed(label, chosen))
        if chosen.leader is not None:
            leaders.extend(boxes_along(chosen.leader))
    return tuple(taken)


def _best(
    choices: Sequence[Choice], labels: Sequence[Bounds], drawn: Sequence[Bounds], paper: Bounds
) -> Choice:
    """Return the choice with the least cost; each costs one more than the one before, all else equal."""
    best, least = choices[0], inf
    for rank, choice in enumerate(choices):
        if rank >= least:
            break
        cost = rank + _cost(choice, labels, drawn, paper)
        if cost < least:
            best, least = choice, cost
    return best


def _cost(choice: Choice, labels: Sequence[Bounds], drawn: Sequence[Bounds], paper: Bounds) -> float:
    box = choice.box
    cost = _ON_LABEL * _hits(box, labels) + _ON_DRAWN * _hits(box, drawn)
    if not paper.holds(box):
        cost += _OUTSIDE
    if choice.leader is not None:
        for piece in boxes_along(choice.leader):
            cost += _LEADER_ON_LABEL * _hits(piece, labels) + _LEADER_ON_DRAWN * _hits(piece, drawn)
    return cost


def _hits(box: Bounds, others: Sequence[Bounds]) -> int:
    return sum(box.overlaps(other) for other in others)
