"""The best load of a house, planned on site as ``packseq plan`` would."""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.standup.progress import Listener

if TYPE_CHECKING:
    from packseq.loading.best import BestLoad

_PLANNED_SHARE = 0.3
"""Share of the limit for planning a load that is not proven."""


@dataclass(frozen=True, slots=True)
class FoundLoad:
    """A load, and whether the clock ended the search for it, or for its plan, before its work was done."""

    best: BestLoad
    out_of_time: bool


def best_load_planned(
    house: House, limit_s: float, seed: int, listener: Listener, stop: threading.Event
) -> FoundLoad:
    """Return the best load found; where fewer extra lifts are not ruled out, planned again with all moves.

    So what it promises is what the site will plan from it.

    Raises
    ------
    NoPlanError
        No load keeps the limits.
    LimitError
        The limit was reached, or the search stopped, before there was a load.
    """
    from packseq.loading.finding import best_load  # noqa: PLC0415
    from packseq.loading.replanned import better_planned  # noqa: PLC0415 - the solver is slow to load
    from packseq.standup.search import plan_standup  # noqa: PLC0415

    began_s = time.monotonic()
    best = best_load(house, limit_s=limit_s, seed=seed, listener=listener, stop=stop)
    late = not stop.is_set() and time.monotonic() - began_s >= limit_s
    if best.stages[0].status == "optimal" or stop.is_set():
        return FoundLoad(best, late)
    planned_s, began_s = _PLANNED_SHARE * limit_s, time.monotonic()
    try:
        plan = plan_standup(best.house, limit_s=planned_s, seed=seed, listener=listener, stop=stop)
    except (NoPlanError, LimitError):
        return FoundLoad(best, late)
    late |= not stop.is_set() and plan.status != "optimal" and time.monotonic() - began_s >= planned_s
    return FoundLoad(better_planned(best, plan), late)
