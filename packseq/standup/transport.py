"""A bound on walking from its parts: every frame is carried, and after every drop the team goes on.

Which frame comes next is left open; how many are picked up at each place is known. That is an assignment
of drops to pick-ups, solved in a moment also where there are far too many states to look through.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from packseq.geometry import leg_mm
from packseq.house.model import House
from packseq.routes.engine import Routes
from packseq.routes.values import Stop, frame_stop, pack_stop, spot_stop
from packseq.scenario.landing import landings
from packseq.scenario.model import Frame
from packseq.standup.job import Job

_NEVER = 1e12
"""In mm, for what no plan does: far more than any plan walks."""
_ROUNDING_MM = 4
"""Let off for every move, whose two legs are rounded to whole mm, here perhaps the other way round."""


def places_are_known(house: House) -> bool:
    """Tell whether frames wait at the places of a job only, and the packs land as in some job."""
    scenario = house.scenario
    given = bool(scenario.spots) or any(pack.holds for pack in scenario.packs.values())
    return given and not landings(scenario).left_out


def least_by_transport(job: Job, routes: Routes, most_lifts: int) -> int:
    """Return what every plan of a job with at most so many extra lifts walks at least, in mm.

    A frame that is not set aside is carried from its pack to its line past all that surely stands by then;
    one that is goes past nothing to where it waits, and on from the last such place past what surely
    stands. After a stand the team goes on past what surely stands, after setting a frame aside past
    nothing, to a pack or to a place where some frame waits. Each pack is gone to as often as it has frames,
    to the first of all from nowhere.

    Parameters
    ----------
    job
        A job that begins with everything as delivered.
    routes
        How the team walks, between all packs, spots and lines.
    most_lifts
        How many extra lifts a plan has at most.
    """
    ground = _Ground(job, routes)
    walks = [ground.walks(name) for name in job.todo]
    sure = [each for each in walks if each.frame in job.surely_waiting]
    others = [each for each in walks if each.frame not in job.surely_waiting]
    saved = sorted((each.straight_mm - each.by_place_mm for each in others), reverse=True)
    may_wait = saved[: max(0, most_lifts - len(sure))]
    carried = sum(each.by_place_mm for each in sure) + sum(each.straight_mm for each in others)
    carried -= sum(gain for gain in may_wait if gain > 0)
    onward = _least_onward(ground, walks, most_lifts)
    return max(0, math.floor(carried + onward) - _ROUNDING_MM * (len(walks) + most_lifts))


@dataclass(frozen=True)
class _Walks:
    """The least that is walked with one frame, in mm.

    `straight_mm` carries it from its pack to its line, `by_place_mm` by a place where it waits; from its line
    the team goes `to_pack_mm` to each pack, or `to_place_mm` to the nearest place where a frame may wait.
    """

    frame: str
    straight_mm: float
    by_place_mm: float
    to_pack_mm: Mapping[str, float]
    to_place_mm: float


class _Ground:
    """Where frames lie at first, and where they may wait: on spots, and on packs that hold some."""

    def __init__(self, job: Job, routes: Routes) -> None:
        self.job, self._routes = job, routes
        packs = job.scenario.packs.values()
        self.packs = {pack.name: pack_stop(pack, job.places[pack.name]) for pack in packs}
        self._holding = [self.packs[pack.name] for pack in packs if pack.holds]
        self.places = [*map(spot_stop, job.spots.values()), *self._holding]

    def walks(self, name: str) -> _Walks:
        """Return the least that is walked with a frame."""
        frame, surely = self.job.scenario.frames[name], self.job.earlier[name]
        line, pack = frame_stop(frame), self.packs[self.job.scenario.pack_of[name]]
        own = [*map(spot_stop, self.job.spots_for(name)), *self._holding]
        off_pack = self._legs(pack, [line, *own], frame, frozenset())
        to_line = self._legs(line, [pack, *own], frame, surely)
        onward = self._legs(line, [*self.packs.values(), *self.places], None, surely | {name})
        return _Walks(
            name,
            to_line[pack],
            min((off_pack[place] + to_line[place] for place in own), default=_NEVER),
            {each: onward[stop] for each, stop in self.packs.items()},
            min((onward[place] for place in self.places), default=_NEVER),
        )

    def from_places(self) -> dict[str, float]:
        """Return the least walk from a place where frames may wait to each pack."""
        packs = list(self.packs.values())
        legs = [self._legs(place, packs, None, frozenset()) for place in self.places]
        return {name: min((each[stop] for each in legs), default=_NEVER) for name, stop in self.packs.items()}

    def _legs(
        self, start: Stop, ends: Sequence[Stop], carried: Frame | None, standing: frozenset[str]
    ) -> dict[Stop, float]:
        there = self._routes.legs_from(start, carried, standing)
        return {
            end: there.get(end, _NEVER) if end.level == start.level else leg_mm(start.point, end.point)
            for end in ends
        }


def _least_onward(ground: _Ground, walks: Sequence[_Walks], most_lifts: int) -> float:
    """Return the least that is walked empty-handed, each drop going on to another pick-up.

    Drops: the stands, those to places where frames wait, and a beginning from nowhere. Pick-ups: as many
    at each pack as it has frames, as many at those places as are put there, and an end after a stand.
    """
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 - slow to load, seldom needed

    packs = [ground.job.scenario.pack_of[each.frame] for each in walks]
    stands = len(walks)
    from_places = ground.from_places()
    costs = np.full((stands + most_lifts + 1, stands + most_lifts + 1), _NEVER)
    to_packs, to_places = slice(0, stands), slice(stands, stands + most_lifts)
    for row, each in enumerate(walks):
        costs[row, to_packs] = [each.to_pack_mm[pack] for pack in packs]
        costs[row, to_places] = each.to_place_mm
    costs[:stands, -1] = 0
    costs[stands:-1, to_packs] = [from_places[pack] for pack in packs]
    costs[stands:-1, to_places] = 0
    costs[-1, to_packs] = 0
    rows, columns = linear_sum_assignment(costs)
    return float(costs[rows, columns].sum())
