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
    delivered = [(number, frame) for number, layer in layers_at_first(schedule, pack) for frame in layer]
    last = len(schedule.plan.moves) + 1
    first_lift = {name: lifts[0].n for name, lifts in schedule.lifts_of.items()}
    delivered.sort(key=lambda entry: (entry[0], first_lift.get(entry[1], last)))
    people = house.scenario.crew.team
    return tuple(
        (
            str(number),
            frame,
            str(people(house.scenario.frames[frame].mass_kg)),
            _what_to_do(house, schedule, frame),
        )
        for number, frame in delivered
    )


def layers_at_first(schedule: Schedule, pack: Pack) -> tuple[tuple[int, tuple[str, ...]], ...]:
    """Return the layers of a pack where the plan begins, top first, each with its number as delivered.

    What was put on top of the pack on site is not among them.
    """
    begin = schedule.plan.begins
    if begin is None:
        return tuple(zip(pack.layer_numbers, pack.layers, strict=True))
    layers = begin.packs.get(pack.name, ())
    return tuple((layer.layer, layer.frames) for layer in layers if layer.layer is not None)


def _pack_list(house: House, schedule: Schedule, pack: Pack) -> RenderableType:
    rows = unpacking_rows(house, schedule, pack)
    parts = [
        paragraph(f"Lies at {at(*schedule.plan.places[pack.name])}."),
        columns(("layer", "frame", "people", "what to do"), rows, right={"layer", "people"}),
    ]
    guests = [stay.frame for stay in schedule.stays if stay.on(pack=pack.name)]
    if guests:
        parts.insert(
            1, paragraph(f"Waiting on top of it for a while: {names(guests)} (see What waits where).")
        )
    return section(f"Unpacking pack {pack.name}, from the top", *parts)


def _what_to_do(house: House, schedule: Schedule, frame: str) -> str:
    """Return such as "set aside on spot S2 before no. 4; stands as no. 19 on the north wall"."""
    lifts = schedule.lifts_of.get(frame, ())
    moved = ", then ".join(
        f"on {put_on(move)} {schedule.until(move)}" for move in lifts if move.do == "set aside"
    )
    number = schedule.numbers.get(frame)
    if number is None:
        return f"set aside {moved}; is left out" if moved else "leave it: left out"
    where = f"as no. {number} {on_wall(house, frame)}"
    return f"set aside {moved}; stands {where}" if moved else f"stand {where}"
