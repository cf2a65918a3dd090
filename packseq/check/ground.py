"""Which packs and spots lie where a frame is to stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from packseq.check.state import Heap
from packseq.geometry import Ring, overlap
from packseq.scenario.model import Frame


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
    here = tuple(frames)
    return {
        heap: frozenset(
            frame.name for frame in here if frame.level == level and overlap(ring, frame.footprint)
        )
        for heap, (level, ring) in grounds.items()
    }
