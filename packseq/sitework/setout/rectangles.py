"""Rectangles of lines whose corners are on the floor: the main one, and one to prove each other line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import combinations, product

from packseq.sitework.setout.model import GridLine, Rectangle

OnFloor = Callable[[float, float], bool]
"""Tells whether a point is on the floor: mm along the reference line, mm square to it."""


def main_rectangle(
    reference_mm: float, along: Sequence[float], across: Sequence[float], on_floor: OnFloor
) -> tuple[float, tuple[float, float]] | None:
    """Return the closing line and the two square ones of the largest rectangle on the reference line.

    Parameters
    ----------
    reference_mm
        Where the reference line lies.
    along
        Where the lines of other external walls lie that are parallel to it.
    across
        Where those of external walls lie that are square to it.
    on_floor
        Tells what is on the floor.

    Returns
    -------
    None when no rectangle has its four corners on the floor.
    """
    found = [
        (abs(closing - reference_mm) * (second - first), -first, closing, (first, second))
        for (first, second), closing in product(combinations(sorted(across), 2), sorted(along))
        if all(on_floor(u, v) for u, v in product((first, second), (reference_mm, closing)))
    ]
    return max(found)[2:] if found else None


def proving_rectangles(lines: Iterable[GridLine], on_floor: OnFloor) -> Iterator[Rectangle]:
    """Yield, for each external line from the closing line on, the largest rectangle that proves it.

    It is made of that line and three external ones marked before it; a line that makes none on the floor
    is left out. The closing line's comes first: the main rectangle.
    """
    along: list[GridLine] = []
    across: list[GridLine] = []
    for line in lines:
        if line.role == "internal" or line.running_mm is None:
            continue
        own, others = (along, across) if line.lie == "along" else (across, along)
        found = [
            (each.along_mm * each.across_mm, each)
            for parallel, pair in product(own, combinations(others, 2))
            if (each := _rectangle(line, parallel, pair, on_floor)) is not None
        ]
        if found and line.role in {"closing", "external"}:
            yield max(found, key=lambda each: each[0])[1]
        own.append(line)


def _rectangle(
    line: GridLine, parallel: GridLine, pair: tuple[GridLine, GridLine], on_floor: OnFloor
) -> Rectangle | None:
    own, others = sorted((line, parallel), key=_running_mm), sorted(pair, key=_running_mm)
    along, across = (own, others) if line.lie == "along" else (others, own)
    corners = product(map(_running_mm, across), map(_running_mm, along))
    if not all(on_floor(u, v) for u, v in corners):
        return None
    return Rectangle(
        proves=line.number,
        along=(along[0].number, along[1].number),
        across=(across[0].number, across[1].number),
        along_mm=_running_mm(across[1]) - _running_mm(across[0]),
        across_mm=_running_mm(along[1]) - _running_mm(along[0]),
    )


def _running_mm(line: GridLine) -> float:
    """Return the running dimension of a line that has one."""
    if line.running_mm is None:
        raise ValueError(f"line {line.number} is skew and has no running dimension")
    return line.running_mm
