"""Unpacking cards, one for each pack, and a card for each spot that frames wait on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from packseq.drawing.stacks import lying_layers, pack_from_side
from packseq.house.model import House
from packseq.page.markup import figure, tag, text
from packseq.page.ticktable import tick_table
from packseq.report.schedule import Schedule, Stay
from packseq.report.unpacking import layers_at_first, unpacking_rows
from packseq.report.waiting import about_spot, waiting_rows
from packseq.report.words import at, names
from packseq.scenario.model import Pack
from packseq.sheet import Column

_UNPACKING = (
    Column("layer", number=True),
    Column("frame"),
    Column("people", number=True),
    Column("what to do"),
)
_WAITING = (
    Column("comes off", number=True),
    Column("frame"),
    Column("was put on"),
    Column("then"),
)


def unpacking_cards(house: House, schedule: Schedule) -> str:
    """Return a card for each pack, from the top to the bottom."""
    return "".join(_pack_card(house, schedule, pack) for pack in house.scenario.packs.values())


def spot_cards(house: House, schedule: Schedule) -> str:
    """Return a card for each spot, or pack, that frames wait on: which, and in what order they come off."""
    return "".join(_spot_cards(house, schedule)) or text("p", "Nothing is set aside.")


def _pack_card(house: House, schedule: Schedule, pack: Pack) -> str:
    layers = layers_at_first(schedule, pack)
    rows = tuple((_first_lift(schedule, row[1]), row) for row in unpacking_rows(house, schedule, pack))
    guests = [stay.frame for stay in schedule.stays if stay.on(pack=pack.name)]
    waits = f" For a while {names(guests)} wait on top of it." if guests else ""
    level = f", level {pack.level}" if len(house.levels) > 1 else ""
    return tag(
        "section",
        text("h3", f"Pack {pack.name}, from the top"),
        text("p", f"Lies at {at(*schedule.plan.places[pack.name])}{level}.{waits}"),
        _picture(house, pack, layers) if layers else "",
        tick_table(f"Unpacking pack {pack.name}", _UNPACKING, rows) if layers else text("p", "Empty."),
        class_="card",
    )


def _first_lift(schedule: Schedule, frame: str) -> int | None:
    lifts = schedule.lifts_of.get(frame)
    return None if lifts is None else lifts[0].n


def _picture(house: House, pack: Pack, layers: Sequence[tuple[int, tuple[str, ...]]]) -> str:
    left = replace(pack, layers=tuple(frames for _, frames in layers))
    title = f"Pack {pack.name} from the side"
    lying, numbers = lying_layers(house.scenario, left), [number for number, _ in layers]
    return figure(pack_from_side(title, lying, numbers=numbers))


def _spot_cards(house: House, schedule: Schedule) -> Iterator[str]:
    stays = schedule.stays
    for spot in schedule.plan.spots:
        own = [stay for stay in stays if stay.on(spot=spot.name)]
        if own:
            yield _waiting_card(f"Spot {spot.name}", about_spot(spot), house, schedule, own)
    for pack in house.scenario.packs:
        own = [stay for stay in stays if stay.on(pack=pack)]
        if own:
            yield _waiting_card(f"On top of pack {pack}", "Last on, first off.", house, schedule, own)


def _waiting_card(title: str, about: str, house: House, schedule: Schedule, stays: Sequence[Stay]) -> str:
    moves = (None if stay.taken_up is None else stay.taken_up.n for stay in stays)
    rows = tuple(zip(moves, waiting_rows(house, schedule, stays), strict=True))
    return tag(
        "section",
        text("h3", title),
        text("p", about),
        tick_table(f"{title}: in this order they come off", _WAITING, rows),
        class_="card",
    )
