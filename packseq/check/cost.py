"""What a plan truly costs, by the measures of docs/rules.md."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from packseq.check.walking import Walked
from packseq.geometry import whole_mm
from packseq.house.model import House


@dataclass(frozen=True, slots=True)
class Cost:
    """The true cost of a plan.

    Parameters
    ----------
    extra_lifts
        Number of times that a frame is set aside.
    extra_lifts_by_pack
        The same by the pack that the frames came in, every pack named.
    walking_mm
        Sum of all legs.
    person_mm
        Sum of all legs, each times the people that the frame needs.
    breaks
        Number of times that a frame is stood that does not touch the one that the plan stands
        before it.
    """

    extra_lifts: int
    extra_lifts_by_pack: Mapping[str, int]
    walking_mm: int
    person_mm: int
    breaks: int

    def merged_mm(self, lift_worth_m: float) -> int:
        """Return walking with each extra lift counted as so many metres, in mm."""
        return whole_mm(lift_worth_m * 1000) * self.extra_lifts + self.walking_mm


def cost_of(house: House, set_aside: Sequence[str], stood: Sequence[str], walked: Sequence[Walked]) -> Cost:
    """Return the cost of a plan from its set-asides, its stand order and its legs."""
    scenario = house.scenario
    counted = Counter(scenario.pack_of[frame] for frame in set_aside)
    return Cost(
        extra_lifts=len(set_aside),
        extra_lifts_by_pack={name: counted[name] for name in scenario.packs},
        walking_mm=sum(legs.walking_mm for legs in walked),
        person_mm=sum(legs.walking_mm * legs.people for legs in walked),
        breaks=sum(after not in house.touches[before] for before, after in pairwise(stood)),
    )
