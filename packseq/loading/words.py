"""What was found, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.loading.best import BestLoad
from packseq.loading.easing import DECKS, LANDINGS, OWN_MASS, LimitCost
from packseq.plan.model import StageResult

_LIMITS = {
    "most_kg": ("a {value:,.0f} kg limit", "{value:,.0f} kg"),
    "most_layers": ("a limit of {value:.0f} layers", "{value:.0f} layers"),
    "most_height_mm": ("a height of {value:,.0f} mm", "{value:,.0f} mm"),
    "overhang_mm": ("an overhang of {value:,.0f} mm", "{value:,.0f} mm"),
    "most_packs": ("a limit of {value:.0f} packs", "{value:.0f} packs"),
    LANDINGS: ("having no more landing places than {value:.0f}", "{value:.0f} places"),
}
_SWITCHES = {
    "balance_mm": "the limit on balance",
    "end_to_end": "that frames may not share a layer end to end",
    "side_by_side": "that frames may not share a layer side by side",
    "together": "that frames must travel together",
    "apart": "that frames must not be in one pack",
    OWN_MASS: "that some landing places take less mass than others",
    DECKS: "that the packs must come off these decks in the order wanted",
}


def promise(best: BestLoad) -> tuple[str, ...]:
    """Return what the load promises and what is proven of it."""
    lifts, packs, walking = best.stages
    if lifts.value == 0:
        first = "No frame is lifted twice on site: the packs come off in stand order."
    else:
        first = f"{counted(lifts.value, 'extra lift')} on site. {_proof(lifts, 'extra lift')}"
    second = f"{counted(packs.value, 'pack')}. {_proof(packs, 'pack')}"
    metres = f"{walking.value / 1000:,.0f} m walked to stand the house from them"
    at_least = f"no load with so few packs has less than {walking.bound / 1000:,.0f} m"
    return (first, second, f"{metres}; {at_least}.")


def limit_words(costs: tuple[LimitCost, ...], lifts: int) -> Iterator[str]:
    """Yield what each limit costs, in one sentence each."""
    if lifts and not costs:
        yield "No single limit was found that would save an extra lift if it alone were wider."
    for cost in costs:
        left = "none" if cost.lifts_without == 0 else str(cost.lifts_without)
        if cost.value is None or cost.freed_at is None:
            what = _SWITCHES.get(cost.key, cost.key)
            yield f"{_first_up(what)} costs {counted(cost.costs, 'extra lift')}: without it {left}."
            continue
        told, at = (
            form.format(value=number)
            for form, number in zip(_LIMITS[cost.key], (cost.value, cost.freed_at), strict=True)
        )
        nearest = "" if cost.nearest else " (perhaps less would do)"
        yield f"{_first_up(told)} costs {counted(cost.costs, 'extra lift')}; at {at} {left}{nearest}."


def _proof(stage: StageResult, what: str) -> str:
    if stage.status == "optimal":
        return "Proven: no load has fewer." if stage.value else "None fewer can be."
    return f"Not proven: no load has fewer than {counted(stage.bound, what)}."


def counted(count: int, what: str) -> str:
    """Return a number of things, in the plural where there is not just one."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _first_up(text: str) -> str:
    return text[:1].upper() + text[1:]
