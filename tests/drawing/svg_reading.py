"""Reading a drawing back, as whatever shows it would."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator


def parsed(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - what was drawn by the code under test


def every(root: ET.Element, name: str) -> Iterator[ET.Element]:
    return root.iter(f"{{http://www.w3.org/2000/svg}}{name}")


def texts(root: ET.Element) -> list[str]:
    return [each.text or "" for each in every(root, "text")]


def corners(shape: ET.Element) -> list[tuple[float, float]]:
    pairs = re.findall(r"(-?[\d.]+),(-?[\d.]+)", shape.get("points", ""))
    return [(float(x), float(y)) for x, y in pairs]
