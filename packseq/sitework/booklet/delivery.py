"""The delivery sheet: packs layer by layer, and the fixings, to be counted off the truck."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check.job import Job
from packseq.sheet import Column, Part, Section, Sheet, Table, Tick, Ticks
from packseq.sitework.cautions import DEFERRAL, LIFTING, NO_FIGURE_DECIDES
from packseq.sitework.fixings.fixing import Fixings

TITLE = "Delivery"


def delivery_sheet(job: Job, fixings: Fixings) -> Sheet:
    """Return the sheet: where each pack lands, what lies in it, what fixings come with it."""
    scenario = job.house.scenario
    return Sheet(
        TITLE,
        scenario.name,
        (LIFTING, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Where packs land", (Ticks(tuple(_landings(job))),)),
            Section("Frames, from the top of each pack", tuple(_packs(job))),
            Section("Fixings", (_fixings(fixings),)),
        ),
    )


def _landings(job: Job) -> Iterator[Tick]:
    for pack in job.house.scenario.packs.values():
        place = job.places[pack.name]
        mass_kg = sum(job.house.scenario.frames[name].mass_kg for name in pack.frames)
        yield Tick(
            f"Pack {pack.name}, {pack.length_mm / 1000:.1f} x {pack.width_mm / 1000:.1f} m, about "
            f"{mass_kg:.0f} kg: centre at x {place.at[0]:.0f}, y {place.at[1]:.0f} mm, long side at "
            f"{place.bearing_deg:g} degrees, level {pack.level}; level bearers, clear of every wall line"
        )


def _packs(job: Job) -> Iterator[Part]:
    frames = job.house.scenario.frames
    columns = (
        Column("layer", number=True),
        Column("frame"),
        Column("m", number=True),
        Column("kg", number=True),
        Column("there", to_fill_in=True),
        Column("damage", to_fill_in=True),
    )
    for pack in job.house.scenario.packs.values():
        rows = tuple(
            (
                str(number),
                name,
                f"{frames[name].length_mm / 1000:.2f}",
                f"{frames[name].mass_kg:.1f}{' est.' if frames[name].mass_is_estimate else ''}",
                "",
                "",
            )
            for number, layer in zip(pack.layer_numbers, pack.layers, strict=True)
            for name in layer
        )
        yield Table(columns, rows, f"Pack {pack.name}")


def _fixings(fixings: Fixings) -> Table:
    columns = (Column("fixing"), Column("needed", number=True), Column("came", number=True, to_fill_in=True))
    rows = tuple(
        (count.what, str(count.needed), "" if count.delivered is None else str(count.delivered))
        for count in fixings.counts
    )
    words = "By the schedule given" if fixings.scheduled else "By the DEFAULT schedule, not your job's"
    return Table(columns, rows, words)
