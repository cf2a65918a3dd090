"""Bounds that hold for every plan there is, whatever is set aside, where and how often."""

from __future__ import annotations

import math
from dataclasses import replace

from packseq.house.model import House
from packseq.scenario.landing import landings
from packseq.standup.job import Job


def least_any_plan_walks(job: Job) -> int:
    """Return a number of mm that every plan walks at least, wherever its packs land.

    Each frame is carried at least straight from the nearest place of its pack to its line, and after
    each stand but the last the team walks at least to the nearest pack or spot. Where the scenario names
    no spot the plan may put one anywhere, and the second part falls away. Two millimetres a frame are
    let off for the rounding of each leg.
    """
    scenario = job.scenario
    frames = [scenario.frames[name] for name in job.todo]
    sources = [place.at for pack in scenario.packs.values() for place in pack.places]
    sources += [spot.at for spot in scenario.spots.values()]
    carried = sum(
        min(
            math.dist(place.at, frame.middle) for place in scenario.packs[scenario.pack_of[frame.name]].places
        )
        for frame in frames
    )
    onward = [min(math.dist(frame.middle, source) for source in sources) for frame in frames]
    back = sum(onward) - max(onward) if scenario.spots else 0.0
    return max(0, math.floor(carried + back) - 2 * len(onward))


def model_is_whole(house: House) -> bool:
    """Tell whether the model knows every place that a plan may use.

    It sets nothing down on a pack; where the scenario names no spot, it uses those proposed; and of very
    many landings it searches some: what it proves of walking then holds for its own plans only.
    """
    scenario = house.scenario
    return (
        bool(scenario.spots)
        and all(pack.holds == 0 for pack in scenario.packs.values())
        and not landings(scenario).left_out
    )


def least_any_plan_lifts(job: Job) -> int:
    """Return how many frames every plan in a direction sets aside, wherever packs land and frames wait."""
    by_order = replace(job, rules=job.rules - {"way-in", "ground-clear"}, shut_out=())
    return len(by_order.surely_waiting)
