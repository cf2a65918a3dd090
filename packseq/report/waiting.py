"""What waits where: every spot with the frames that wait on it, in the order they come off."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import RenderableType

from packseq.house.model import House
from packseq.plan.model import PlannedSpot
from packseq.report.layout import columns, listing, paragraph, section
from packseq.report.schedule import Schedule, Stay
from packseq.report.stacks import KINDS
from packseq.report.words import at, names, on_wall, put_on, size


def waiting_lists(house: House, schedule: Schedule) -> tuple[RenderableType, ...]:
    """Return one list for each spot and pack that frames wait on, and the spots that are not used."""
    stays = schedule.stays
    if not stays:
        return (section("What waits where", paragraph("Nothing is set aside.")),)
    parts = []
    unused = []
    for spot in schedule.plan.spots:
        own = [stay for stay in stays if stay.on(spot=spot.name)]
        if own:
            parts.append(_list(f"What waits where: spot {spot.name}", about_spot(spot), house, schedule, own))
        else:
            unused.append(spot.name)
    for pack in house.scenario.packs:
        own = [stay for stay in stays if stay.on(pack=pack)]
        if own:
            title = f"What waits where: on top of pack {pack}"
            parts.append(_list(title, "Last on, first off.", house, schedule, own))
    if unused:
        parts.append(section("What waits where: spots not used", listing([f"{names(unused)}."])))
    return tuple(parts)


def about_spot(spot: PlannedSpot) -> str:
    """Return what a spot is and where it lies; of one that the plan proposes also why there."""
    why = "" if spot.why is None else f" Proposed: {spot.why}."
    return (
        f"A {KINDS[spot.kind]}. Holds {spot.holds}. {size(*spot.size_mm)}, "
        f"{at(*spot.at_mm, spot.bearing_deg)}, level {spot.level}.{why}"
    )


def waiting_rows(
    house: House, schedule: Schedule, stays: Iterable[Stay]
) -> tuple[tuple[str, str, str, str], ...]:
    """Return for each wait its place in the order of coming off, the frame, since when, and what then."""
    return tuple(
        (
            str(order),
            stay.frame,
            "before this plan" if stay.put_down is None else schedule.until(stay.put_down),
            _leaves(house, schedule, stay),
        )
        for order, stay in enumerate(stays, 1)
    )


def _list(title: str, about: str, house: House, schedule: Schedule, stays: Iterable[Stay]) -> RenderableType:
    rows = waiting_rows(house, schedule, stays)
    headings = ("comes off", "frame", "was put on", "then")
    return section(title, paragraph(about), columns(headings, rows, right={"comes off"}))


def _leaves(house: House, schedule: Schedule, stay: Stay) -> str:
    move = stay.taken_up
    if move is None:
        return "stays there: left out"
    if move.do == "stand":
        return f"stands as no. {move.stand} {on_wall(house, move.frame)}"
    return f"is set aside again on {put_on(move)} {schedule.until(move)}"
