"""The crew that works down the frame list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packseq.baseline.crew import Scene, Unplanned, unplanned
from packseq.house.model import House
from packseq.plan.begin import Begin
from packseq.routes.engine import Routes
from packseq.scenario.model import Place, Spot


def by_frame_list(
    house: House,
    *,
    spots: Mapping[str, Spot] | None = None,
    places: Mapping[str, Place] | None = None,
    routes: Routes | None = None,
    begin: Begin | None = None,
) -> Unplanned:
    """Return what comes of always standing the first frame of frames.csv that may be stood.

    `spots` and `places` are the scenario's unless given; `routes` are built unless given. The crew begins
    with everything as delivered, unless `begin` says otherwise.
    """
    return unplanned(house, _as_listed, spots=spots, places=places, routes=routes, begin=begin)


def _as_listed(_scene: Scene, waiting: Sequence[str]) -> Sequence[str]:
    return waiting
