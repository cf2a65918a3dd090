"""The delivery sheet: packs layer by layer, and the fixings, to be counted off the truck."""

from __future__ import annotations

import math
from collections.abc import Iterator

from packseq.check.job import Job
from packseq.geometry import Point
from packseq.sheet import Column, Part, Section, Sheet, Table, Tick, Ticks
from packseq.sitework.cautions import DEFERRAL, LIFTING, NO_FIGURE_DECIDES
from packseq.sitework.fixings.fixing import Fixings
from packseq.sitework.slabedges import corners_at
from packseq.sitework.walls import compass

TITLE = "Delivery"


def delivery_sheet(job: Job, fixings: Fixings) -> Sheet:
    """Return the sheet: where packs land and frames wait, what lies in each pack, which fixings come."""
    scenario = job.house.scenario
    spots = tuple(_spots(job))
    return Sheet(
        TITLE,
        scenario.name,
        (LIFTING, NO_FIGURE_DECIDES, DEFERRAL),
        (
            Section("Where packs land", (Ticks(tuple(_landings(job))),)),
            *([Section("Where set-aside frames wait", (Ticks(spots),))] if spots else []),
            Section("Frames, from the top of each pack", tuple(_packs(job))),
            Section("Fixings", (_fixings(fixings),)),
        ),
    )


def _landings(job: Job) -> Iterator[Tick]:
    for pack in job.house.scenario.packs.values():
        place = job.places[pack.name]
        mass_kg = sum(job.house.scenario.frames[name].mass_kg for name in pack.frames)
        where = _where(job, place.at, place.bearing_deg, pack.level)
        yield Tick(
            f"Pack {pack.name}, {pack.length_mm / 1000:.1f} x {pack.width_mm / 1000:.1f} m, about "
            f"{mass_kg:.0f} kg: {where}; on level bearers, clear of every wall line"
        )


def _spots(job: Job) -> Iterator[Tick]:
    for spot in sorted(job.spots.values(), key=lambda each: each.name):
        length, width = spot.size_mm
        kind = "flat, one on the other" if spot.kind == "pile" else "leaning, side by side"
        where = _where(job, spot.at, spot.bearing_deg, spot.level)
        yield Tick(
            f"Spot {spot.name}, {length / 1000:.1f} x {width / 1000:.1f} m, up to {spot.holds} frames "
            f"{kind}: {where}"
        )


def _where(job: Job, at: Point, bearing: float, level: int) -> str:
    """Return where the centre of something lies, from the nearest corner of the slab, and how it lies."""
    corners = corners_at(job.house.scenario.slab)
    corner = min(corners, key=lambda name: math.dist(corners[name], at))
    off = (at[0] - corners[corner][0], at[1] - corners[corner][1])
    ways = [
        f"{abs(by):.0f} mm {way[by > 0]}"
        for by, way in zip(off, (("west", "east"), ("south", "north")), strict=True)
        if round(by)
    ]
    aim = math.radians(bearing)
    ahead = (math.cos(aim), math.sin(aim))
    long_side = f"{compass(ahead)} to {compass((-ahead[0], -ahead[1]))}"
    on_level = f", level {level}" if len(job.house.levels) > 1 else ""
    centre = f"{' and '.join(ways) or '0 mm'} of slab corner {corner}{on_level}"
    return f"centre {centre}, long side {long_side} ({bearing:g} degrees from east)"


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
