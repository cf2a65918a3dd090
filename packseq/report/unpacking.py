"""The unpacking list of each pack: what to do with every frame, from the top to the bottom."""

from __future__ import annotations

from rich.console import RenderableType

from packseq.house.model import House
from packseq.report.layout import columns, paragraph, section
from packseq.report.schedule import Schedule
from packseq.report.words import at, names, on_wall, put_on
from packseq.scenario.model import Pack


def unpacking_lists(house: House, schedule: Schedule) -> tuple[RenderableType, ...]:
    """Return one list for each pack, in the order of the scenario."""
    return tuple(_pack_list(house, schedule, pack) for pack in house.scenario.packs.values())


def unpacking_rows(house: House, schedule: Schedule, pack: Pack) -> tuple[tuple[str, str, str, str], ...]:
    """Return for each frame of a pack its layer, name, people and what to do with it, from the top.

    Within a layer they come in the order in which the plan takes them.
    """
    layers = zip(pack.layer_numbers, pack.layers, strict=True)
    delivered = [(number, frame) for number, layer in layers for frame in layer]
    delivered.sort(key=lambda entry: (entry[0], schedule.lifts_of[entry[1]][0].n))
    return tuple(
        (str(number), frame, str(schedule.lifts_of[frame][0].people), _what_to_do(house, schedule, frame))
        for number, frame in delivered
    )


def _pack_list(house: House, schedule: Schedule, pack: Pack) -> RenderableType:
    rows = unpacking_rows(house, schedule, pack)
    parts = [
        paragraph(f"Lies at {at(*schedule.plan.places[pack.name])}."),
        columns(("layer", "frame", "people", "what to do"), rows, right={"layer", "people"}),
    ]
    guests = [stay.put_down.frame for stay in schedule.stays if stay.on(pack=pack.name)]
    if guests:
        parts.insert(
            1, paragraph(f"Waiting on top of it for a while: {names(guests)} (see What waits where).")
        )
    return section(f"Unpacking pack {pack.name}, from the top", *parts)


def _what_to_do(house: House, schedule: Schedule, frame: str) -> str:
    """Return such as "set aside on spot S2 before no. 4; stands as no. 19 on the north wall"."""
    *aside, stand = schedule.lifts_of[frame]
    where = f"as no. {stand.stand} {on_wall(house, frame)}"
    if not aside:
        return f"stand {where}"
    moved = ", then ".join(f"on {put_on(move)} before no. {schedule.next_stand[move.n]}" for move in aside)
    return f"set aside {moved}; stands {where}"
