"""The best load of a house, planned on site as ``packseq plan`` would."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.standup.progress import Listener

if TYPE_CHECKING:
    from packseq.loading.best import BestLoad

_PLANNED_SHARE = 0.3
"""Share of the limit for planning a load that is not proven."""


def best_load_planned(
    house: House, limit_s: float, seed: int, listener: Listener, stop: threading.Event
) -> BestLoad:
    """Return the best load found; where fewer extra lifts are not ruled out, planned again with all moves.

    So what it promises is what the site will plan from it.

    Raises
    ------
    NoPlanError
        No load keeps the limits.
    LimitError
        The limit was reached, or the search stopped, before there was a load.
    """
    from packseq.loading.replanned import better_planned  # noqa: PLC0415 - the solver is slow to load
    from packseq.loading.search import best_load  # noqa: PLC0415
    from packseq.standup.search import plan_standup  # noqa: PLC0415

    best = best_load(house, limit_s=limit_s, seed=seed, listener=listener, stop=stop)
    if best.stages[0].status == "optimal" or stop.is_set():
        return best
    try:
        plan = plan_standup(
            best.house, limit_s=_PLANNED_SHARE * limit_s, seed=seed, listener=listener, stop=stop
        )
    except (NoPlanError, LimitError):
        return best
    return better_planned(best, plan)
