"""The three lifts there are."""

from __future__ import annotations

from enum import IntEnum


class Kind(IntEnum):
    """Off a pack to the frame's line, off a pack to a spot, off a spot to the frame's line."""

    STRAIGHT = 0
    ASIDE = 1
    OFF_SPOT = 2
