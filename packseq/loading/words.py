"""What was found, in sentences."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from packseq.loading.best import BestLoad
from packseq.loading.easing import DECKS, LANDINGS, OWN_MASS, LimitCost

STOPPED = "The search was stopped: this is the best load found by then, and it is checked."


def counted(count: int, what: str) -> str:
    """Return a number of things, in the plural where there is not just one."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


_LIMITS: Mapping[str, tuple[Callable[[float], str], Callable[[float], str]]] = {
    "most_kg": (lambda value: f"A {value:,.0f} kg limit", lambda value: f"at {value:,.0f} kg"),
    "most_layers": (
        lambda value: f"A limit of {counted(round(value), 'layer')}",
        lambda value: f"with {counted(round(value), 'layer')}",
    ),
    "most_height_mm": (
        lambda value: f"A height of at most {value:,.0f} mm",
        lambda value: f"at {value:,.0f} mm",
    ),
    "overhang_mm": (
        lambda value: f"An overhang of at most {value:,.0f} mm",
        lambda value: f"at {value:,.0f} mm",
    ),
    "most_packs": (
        lambda value: f"A limit of {counted(round(value), 'pack')}",
        lambda value: f"with {counted(round(value), 'pack')}",
    ),
    LANDINGS: (
        lambda value: f"Having only {counted(round(value), 'landing place')}",
        lambda value: f"with {counted(round(value), 'landing place')}",
    ),
}
"""For each limit with a value: how a sentence begins with it, and how it says another value."""

_SWITCHES = {
    "balance_mm": "The limit on balance",
    "end_to_end": "That frames may not share a layer end to end",
    "side_by_side": "That frames may not share a layer side by side",
    "together": "That some frames must travel together",
    "apart": "That some frames must not be in one pack",
    OWN_MASS: "That some landing places take less mass than others",
    DECKS: "That the packs come off these decks in the order wanted",
}


def promise(best: BestLoad) -> tuple[str, ...]:
    """Return what the load promises and what is proven of it."""
    walking = best.stages[2]
    metres = f"Standing the house takes {walking.value / 1000:,.0f} m of walking"
    at_least = f"no load of so few packs takes less than {walking.bound / 1000:,.0f} m"
    return (_lifts(best), _packs(best), f"{metres}; {at_least}.")


def _lifts(best: BestLoad) -> str:
    lifts = best.stages[0]
    if lifts.value == 0:
        return "No frame is lifted twice on site: the packs come off in stand order."
    if lifts.value == lifts.bound:
        sure = "Proven: no load has fewer."
    elif lifts.bound:
        sure = f"Perhaps fewer would do, but not fewer than {lifts.bound}: that is proven."
    else:
        sure = "Perhaps fewer would do, or none: nothing is proven."
    return f"{counted(lifts.value, 'extra lift')} on site. {sure}"


def _packs(best: BestLoad) -> str:
    lifts, packs, _ = best.stages
    so_few = "without extra lifts" if lifts.value == 0 else "with so few extra lifts"
    told = f"{counted(packs.value, 'pack')}."
    if packs.value == 1:
        return told
    if packs.value == packs.bound:
        return f"{told} Proven: {so_few} no load has fewer."
    return f"{told} Perhaps fewer would do, but {so_few} not fewer than {packs.bound}: that is proven."


def limit_words(costs: tuple[LimitCost, ...], lifts: int) -> Iterator[str]:
    """Yield what each limit costs, in one sentence each."""
    if lifts and not costs:
        yield "No single limit was found that would save an extra lift if it alone were wider."
    for cost in costs:
        so_many = counted(cost.costs, "extra lift")
        left = "none" if cost.lifts_without == 0 else f"still {cost.lifts_without}"
        if cost.value is None or cost.freed_at is None:
            yield f"{_SWITCHES.get(cost.key, cost.key)} costs {so_many}; without it {left}."
            continue
        begins, otherwise = _LIMITS[cost.key]
        nearest = "" if cost.nearest else " (perhaps less would do)"
        yield f"{begins(cost.value)} costs {so_many}; {otherwise(cost.freed_at)} {left}{nearest}."
