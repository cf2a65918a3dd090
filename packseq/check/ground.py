"""Which packs and spots lie where a frame is to stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import shapely

from packseq.check.state import Heap
from packseq.geometry import Ring
from packseq.scenario.model import Frame

LEAST_OVERLAP_MM2 = 1.0
"""Grounds that share no more than this only touch: it swallows rounding, and nothing that is seen."""


def lines_covered(
    grounds: Mapping[Heap, tuple[int, Ring]], frames: Iterable[Frame]
) -> dict[Heap, frozenset[str]]:
    """Return, for each pack and spot, the frames whose footprint its ground covers in part or whole.

    Parameters
    ----------
    grounds
        The level of each pack and spot, and the corners of the ground it takes.
    frames
        The frames that are to stand; only those of the same level count.
    """
    lines = [(frame, shapely.Polygon(frame.footprint)) for frame in frames]
    return {
        heap: frozenset(
            frame.name
            for frame, line in lines
            if frame.level == level and shapely.Polygon(ring).intersection(line).area > LEAST_OVERLAP_MM2
        )
        for heap, (level, ring) in grounds.items()
    }
