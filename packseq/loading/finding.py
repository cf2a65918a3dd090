"""The best load of a house, or which limits rule out any."""

from __future__ import annotations

import threading
from collections.abc import Iterator

from packseq.errors import Conflict, NoPlanError
from packseq.house.model import House
from packseq.loading.best import BestLoad
from packseq.loading.easing import DECKS, LANDINGS, OWN_MASS, freeing_limits
from packseq.loading.refuse import refuse_hopeless
from packseq.loading.search import TOGETHER, LoadSearch
from packseq.standup.progress import Listener
from packseq.standup.solver import Clock, Solver

_RULES = {
    "most_kg": "mass",
    OWN_MASS: "mass",
    "most_layers": "height",
    "most_height_mm": "height",
    "overhang_mm": "support",
    "balance_mm": "balance",
    "end_to_end": "layer-room",
    "side_by_side": "layer-room",
    "most_packs": "pack-count",
    LANDINGS: "pack-count",
    "together": "together",
    "apart": "apart",
    DECKS: "delivery-order",
}
_WHY_SHARE = 0.5


def best_load(
    house: House,
    *,
    limit_s: float,
    seed: int = 0,
    listener: Listener | None = None,
    stop: threading.Event | None = None,
) -> BestLoad:
    """Return the best load found for a house, checked by the rules of loading and by a replay.

    Parameters
    ----------
    house
        What is to stand; its scenario holds landing places, limits and decks. Its packs as delivered
        make no difference.
    limit_s
        Seconds that the search may take. Work is limited so that the same house, limit and seed
        give the same load; on a slow machine the seconds may run out first.
    seed
        Seed of the search.
    listener
        Called with the progress, now and then.
    stop
        Once set, the best checked load so far is returned.

    Raises
    ------
    NoPlanError
        No load keeps the limits.
    LimitError
        The limit was reached, or the search stopped, before there was a load.
    """
    refuse_hopeless(house)
    search = LoadSearch(house, Solver(Clock(limit_s, stop), seed, listener), limit_s)
    try:
        return search.best()
    except NoPlanError as none:
        raise NoPlanError(_why(house, _WHY_SHARE * limit_s, seed)) from none


def _why(house: House, limit_s: float, seed: int) -> Iterator[Conflict]:
    """Yield the limits that alone stand in the way; where there are none such, all of them together."""
    keys = freeing_limits(house, limit_s=limit_s, seed=seed)
    for key in keys:
        where = key if key in {LANDINGS, OWN_MASS, DECKS} else f"load.{key}"
        text = f"{TOGETHER.text}; with another value of {where} one can"
        yield Conflict((_RULES[key],), text)
    if not keys:
        yield TOGETHER
