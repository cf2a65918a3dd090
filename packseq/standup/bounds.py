"""Bounds that hold for every plan there is, whatever is set aside and how often."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from packseq.geometry import Point
from packseq.house.model import House
from packseq.scenario.model import Place


def least_any_plan_walks(house: House, places: Mapping[str, Place], spots: Iterable[Point]) -> int:
    """Return a number of mm that every plan walks at least.

    Each frame is carried at least straight from its pack to its line, and after each stand but
    the last the team walks at least to the nearest pack or spot. A millimetre a frame is let off for
    the rounding of each leg.
    """
    scenario = house.scenario
    sources = [place.at for place in places.values()] + list(spots)
    carried = sum(
        math.dist(places[scenario.pack_of[frame.name]].at, frame.middle) for frame in scenario.frames.values()
    )
    onward = [
        min(math.dist(frame.middle, source) for source in sources) for frame in scenario.frames.values()
    ]
    return max(0, math.floor(carried + sum(onward) - max(onward)) - 2 * len(onward))
