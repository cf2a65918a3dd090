"""Whether a route that somebody wrote down crosses what blocks."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import shapely

from packseq.geometry import Point
from packseq.routes.ground import Blocker
from packseq.routes.values import Stop

ALLOWED_MM = 1.0
"""How far a written route may cut into what blocks, beside the skin: points are written in whole mm."""


def crosses(blocker: Blocker, points: Sequence[Point], ends: Sequence[Stop | None]) -> bool:
    """Tell whether a route leads across a piece that blocks.

    Parameters
    ----------
    blocker
        What blocks.
    points
        The route, in mm.
    ends
        For each point the stop that it is, None for a bend.
    """
    inner = shapely.buffer(blocker.shape, -ALLOWED_MM, join_style="mitre")
    if inner.is_empty:
        return False
    heeds = all if blocker.leaving is None else any
    return any(
        heeds(barred) and shapely.LineString(line).intersects(inner)
        for line, barred in zip(pairwise(points), pairwise(blocker.bars(ends)), strict=True)
    )
