"""The text of SVG elements; every name and word in it is escaped, so that it stays text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from typing import Literal

from packseq.geometry import Point

Anchor = Literal["start", "middle", "end"]

FONT = "Arial, Helvetica, Liberation Sans, sans-serif"
"""Fonts that every system has, or something like them."""

_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Pen:
    """A line: its width in mm of paper, its dashes ("2 1": 2 mm drawn, 1 mm left out), its colour."""

    width_mm: float
    dashes: str = ""
    colour: str = "#000"


def escaped(text: str) -> str:
    """Return text fit for the inside of an element or a quoted attribute."""
    return escape(_NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text))


def number(value: float) -> str:
    """Return a number with two decimals at most: a hundredth of a millimetre of paper is enough."""
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


def element(name: str, content: str = "", /, **attributes: str | float) -> str:
    """Return one element around content that is markup already.

    Parameters
    ----------
    name
        Name of the element.
    content
        Its markup.
    attributes
        Escaped here. An underscore stands for a dash, ``class_`` for ``class``; an attribute
        that is ``""`` is left out.
    """
    said = "".join(_attribute(key, value) for key, value in attributes.items() if value != "")
    return f"<{name}{said}>{content}</{name}>" if content else f"<{name}{said}/>"


def group(parts: Iterable[str], /, **attributes: str | float) -> str:
    """Return parts as one group; nothing when there are none."""
    content = "".join(parts)
    return element("g", content, **attributes) if content else ""


def line(points: Iterable[Point], pen: Pen, **attributes: str | float) -> str:
    """Return an open line through points, in mm of paper."""
    return element("polyline", points=_points(points), fill="none", **_stroke(pen), **attributes)


def area(points: Iterable[Point], pen: Pen, fill: str = "none", **attributes: str | float) -> str:
    """Return a closed shape, in mm of paper."""
    return element("polygon", points=_points(points), fill=fill, **_stroke(pen), **attributes)


def words(
    text: str,
    at: Point,
    size_mm: float,
    *,
    anchor: Anchor = "middle",
    bold: bool = False,
    turned_deg: float = 0.0,
    halo: bool = False,
    class_: str = "",
) -> str:
    """Return a line of text.

    Parameters
    ----------
    text
        What it says.
    at
        Where the middle of its height lies, and the place along it that `anchor` names, in mm of paper.
    size_mm
        Height of the font in mm of paper.
    anchor
        Which place along the line lies at `at`.
    bold
        Whether it is bold.
    turned_deg
        How far it is turned about `at`, anticlockwise.
    halo
        Whether it has a white edge, to be read over lines.
    class_
        Class for a page's own style sheet.
    """
    edge: dict[str, str | float] = (
        {"stroke": "#fff", "stroke_width": size_mm / 4, "stroke_linejoin": "round", "paint_order": "stroke"}
        if halo
        else {}
    )
    turn = f"rotate({number(-turned_deg)} {number(at[0])} {number(at[1])})" if turned_deg else ""
    return element(
        "text",
        escaped(text),
        x=at[0],
        # The middle of capitals lies about 0.35 em above the line they stand on.
        y=at[1] + 0.35 * size_mm,
        font_size=size_mm,
        text_anchor="" if anchor == "start" else anchor,
        font_weight="bold" if bold else "",
        transform=turn,
        class_=class_,
        **edge,
    )


def _attribute(key: str, value: str | float) -> str:
    said = escaped(value) if isinstance(value, str) else number(value)
    return f' {key.rstrip("_").replace("_", "-")}="{said}"'


def _points(points: Iterable[Point]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _stroke(pen: Pen) -> dict[str, str | float]:
    if pen.width_mm == 0:
        return {"stroke": "none"}
    return {"stroke": pen.colour, "stroke_width": pen.width_mm, "stroke_dasharray": pen.dashes}
