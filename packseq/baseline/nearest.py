"""The crew that takes what lies nearest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packseq.baseline.crew import Scene, Unplanned, unplanned
from packseq.house.model import House
from packseq.plan.begin import Begin
from packseq.routes.engine import Routes
from packseq.scenario.model import Place, Spot


def by_nearest(
    house: House,
    *,
    spots: Mapping[str, Spot] | None = None,
    places: Mapping[str, Place] | None = None,
    routes: Routes | None = None,
    begin: Begin | None = None,
    thinks_again: bool = False,
) -> Unplanned:
    """Return what comes of always standing the nearest frame that may be stood.

    A frame with nothing above it comes before one that must be unpacked; then the one that
    lies nearest to where the team is, then the one under fewer others, then the first listed.
    `spots` and `places` are the scenario's unless given; `routes` are built unless given. The crew begins
    with everything as delivered, unless `begin` says otherwise. `thinks_again` as in `unplanned`.
    """
    return unplanned(
        house,
        _nearest_first,
        spots=spots,
        places=places,
        routes=routes,
        begin=begin,
        thinks_again=thinks_again,
    )


def _nearest_first(scene: Scene, waiting: Sequence[str]) -> Sequence[str]:
    lies = scene.state.lies
    away_mm = {heap: scene.away_mm(heap) for heap in {lies[name] for name in waiting if name in lies}}

    def effort(name: str) -> tuple[bool, float, int]:
        above = len(scene.state.above(name))
        return (above > 0, away_mm[lies[name]] if name in lies else 0, above)

    return sorted(waiting, key=effort)
