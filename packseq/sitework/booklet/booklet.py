"""The sheets of the whole job in their order, and the same as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from packseq.check import Replay
from packseq.sheet import Sheet
from packseq.sitework.booklet import holdpoints
from packseq.sitework.booklet.choices import JobChoices
from packseq.sitework.booklet.delivery import delivery_sheet
from packseq.sitework.booklet.front import front_sheet
from packseq.sitework.booklet.holdpoints import held
from packseq.sitework.booklet.levelsheets import Held, before_standing, from_standing_on
from packseq.sitework.booklet.signoff import sign_off_sheet
from packseq.sitework.braces.bracedata import bracing_document
from packseq.sitework.braces.bracing import Bracing, bracing_sheet, study_bracing
from packseq.sitework.fixings.fixing import Fixings, fixings_document, fixings_sheet, study_fixings
from packseq.sitework.laps.lapdata import laps_document
from packseq.sitework.laps.study import Laps, study_laps
from packseq.sitework.lifts.lifting import Lifting, lifting_document, lifting_sheet, study_lifting
from packseq.sitework.readings.document import limits_document
from packseq.sitework.readings.tasks import Job, job_of
from packseq.sitework.setout.document import set_out_document
from packseq.sitework.slab.build import Base, base_of
from packseq.sitework.slab.document import to_measure_document
from packseq.sitework.slab.tosheet import to_measure_sheet

TITLE = "Job booklet"


@dataclass(frozen=True, slots=True)
class Booklet:
    """The sheets in order, and the same as plain data."""

    sheets: tuple[Sheet, ...]
    document: dict[str, Any]


@dataclass(frozen=True, slots=True)
class _Parts:
    """Everything that was worked out."""

    done: Replay
    base: Base
    job: Job
    lifting: Lifting
    bracing: Bracing
    laps: Laps
    fixings: Fixings


def make_booklet(done: Replay, choices: JobChoices) -> Booklet:
    """Return the booklet of a plan that keeps the rules."""
    house = done.job.house
    parts = _Parts(
        done=done,
        base=base_of(house),
        job=job_of(house, choices.lines),
        lifting=study_lifting(house, choices.lifts, plan=done, gust_m_per_s=choices.gust_m_per_s),
        bracing=study_bracing(done, choices.braces, permanent_kn=choices.permanent_kn),
        laps=study_laps(done, choices.laps),
        fixings=study_fixings(house, choices.files, choices.rules),
    )
    ordered = tuple(_in_order(parts))
    points = [point for _, point in ordered if point is not None]
    sheets = tuple(sheet if point is None else held(sheet, point) for sheet, point in ordered)
    front = front_sheet(done, choices, [sheet.title for sheet in sheets], points)
    lines = tuple(parts.job.set_outs[level.level] for level in house.levels)
    document = {
        "sheets": [sheet.title for sheet in (front, *sheets)],
        "hold_points": [{"name": each.name, "text": each.text} for each in points],
        "slab": to_measure_document(house, parts.base),
        "setout": set_out_document(house, lines),
        "lifts": lifting_document(parts.lifting),
        "braces": bracing_document(parts.bracing),
        "moves": [move.model_dump(mode="json", by_alias=True) for move in done.plan.moves],
        "laps": laps_document(parts.laps),
        "limits": limits_document(choices.laps.limits),
        "fixings": fixings_document(parts.fixings),
    }
    return Booklet((front, *sheets), document)


def _in_order(parts: _Parts) -> Iterator[Held]:
    """Yield the sheets as the job goes: what is done once, then level by level, then the end."""
    house = parts.done.job.house
    first, *above = (level.level for level in house.levels)
    yield to_measure_sheet(house, parts.base), holdpoints.SLAB
    yield from before_standing(parts.job, first)
    yield delivery_sheet(parts.done.job, parts.fixings), holdpoints.DELIVERY
    yield bracing_sheet(parts.bracing), holdpoints.BRACES
    yield lifting_sheet(parts.lifting), holdpoints.LIFTING
    yield from from_standing_on(parts.job, parts.bracing, parts.laps, first)
    for level in above:
        yield from before_standing(parts.job, level)
        yield from from_standing_on(parts.job, parts.bracing, parts.laps, level)
    yield fixings_sheet(parts.fixings), holdpoints.FIXINGS
    yield sign_off_sheet(house), holdpoints.SIGN_OFF
