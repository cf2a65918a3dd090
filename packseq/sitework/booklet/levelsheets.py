"""The sheets of one level in order: set-out, standing, laps, readings, nailing off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from packseq.house.model import House
from packseq.sheet import Sheet
from packseq.sitework.booklet import holdpoints
from packseq.sitework.booklet.holdpoints import HoldPoint
from packseq.sitework.booklet.standing import standing_sheet
from packseq.sitework.braces.bracing import Bracing
from packseq.sitework.laps.lapsheets import CAUTIONS as LAP_CAUTIONS
from packseq.sitework.laps.lapsheets import lap_sections
from packseq.sitework.laps.study import Laps
from packseq.sitework.readings.onpaper import on_paper_sheet
from packseq.sitework.readings.tasks import Job
from packseq.sitework.setout.sheet import set_out_sheet

Held = tuple[Sheet, HoldPoint | None]
"""A sheet and the hold point that it ends with; the laps have a line to sign of their own."""


def before_standing(job: Job, level: int) -> Iterator[Held]:
    """Yield the set-out of one level."""
    sheet = set_out_sheet(job.house, (job.set_outs[level],))
    yield _named(job.house, sheet, level), _point(job.house, holdpoints.SET_OUT, level)


def from_standing_on(job: Job, bracing: Bracing, laps: Laps, level: int) -> Iterator[Held]:
    """Yield the sheets of one level from standing its frames to nailing off.

    Readings come before nailing off: what is nailed is no longer pushed.
    """
    house = job.house
    yield _named(house, standing_sheet(bracing, level), level), _point(house, holdpoints.STANDING, level)
    sheets = [
        Sheet(section.heading, house.scenario.name, LAP_CAUTIONS, (replace(section, heading="What to do"),))
        for section in lap_sections(laps, level)
    ]
    for sheet in sheets[:-1]:
        yield sheet, None
    readings = on_paper_sheet(job, level, laps.choices.limits)
    yield readings, _point(house, holdpoints.READINGS, level)
    above = any(other.level > level for other in house.levels)
    yield sheets[-1], _point(house, holdpoints.FLOOR, level) if above else None


def _named(house: House, sheet: Sheet, level: int) -> Sheet:
    return replace(sheet, title=f"{sheet.title}, level {level}") if len(house.levels) > 1 else sheet


def _point(house: House, point: HoldPoint, level: int) -> HoldPoint:
    return point.on(level) if len(house.levels) > 1 else point
