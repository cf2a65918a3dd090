"""The sheets of the whole job in their order, and the same as plain data."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from packseq.check import Replay
from packseq.sheet import Sheet
from packseq.sitework.booklet import holdpoints
from packseq.sitework.booklet.delivery import delivery_sheet
from packseq.sitework.booklet.front import front_sheet
from packseq.sitework.booklet.holdpoints import held
from packseq.sitework.booklet.signoff import sign_off_sheet
from packseq.sitework.booklet.standing import standing_sheet
from packseq.sitework.braces.bracedata import bracing_document
from packseq.sitework.braces.bracing import bracing_sheet, study_bracing
from packseq.sitework.braces.choices import BraceChoices
from packseq.sitework.fixings.fixing import (
    FixingFiles,
    PlateRules,
    fixings_document,
    fixings_sheet,
    plate_choices,
    study_fixings,
)
from packseq.sitework.laps.lapdata import laps_document
from packseq.sitework.laps.lapsheets import CAUTIONS as LAP_CAUTIONS
from packseq.sitework.laps.lapsheets import lap_sections
from packseq.sitework.laps.study import LapChoices, study_laps
from packseq.sitework.lifts.assess import LiftChoices
from packseq.sitework.lifts.lifting import lifting_document, lifting_sheet, study_lifting
from packseq.sitework.setout import Choices, set_out
from packseq.sitework.setout.document import set_out_document
from packseq.sitework.setout.sheet import set_out_sheet
from packseq.sitework.slab.build import base_of
from packseq.sitework.slab.document import to_measure_document
from packseq.sitework.slab.tosheet import to_measure_sheet

TITLE = "Job booklet"


@dataclass(frozen=True, slots=True)
class JobChoices:
    """What the booklet goes by: the gust, the files about fixings, the rules for plates."""

    files: FixingFiles
    rules: PlateRules
    gust_m_per_s: float | None = None


@dataclass(frozen=True, slots=True)
class Booklet:
    """The sheets in order, and the same as plain data."""

    sheets: tuple[Sheet, ...]
    document: dict[str, Any]


def make_booklet(done: Replay, choices: JobChoices) -> Booklet:
    """Return the booklet of a plan that keeps the rules.

    Every other choice (offsets of lines, reach, spacing of braces) is as its own command has it.
    """
    house = done.job.house
    base = base_of(house)
    lines = tuple(set_out(house, level, Choices()) for level in house.levels)
    lifting = study_lifting(house, LiftChoices(), plan=done, gust_m_per_s=choices.gust_m_per_s)
    bracing = study_bracing(done, BraceChoices())
    laps = study_laps(done, LapChoices(plate_choices(house, choices.files, choices.rules)))
    fixings = study_fixings(house, choices.files, choices.rules)
    lap_sheets = [
        Sheet(section.heading, house.scenario.name, LAP_CAUTIONS, (replace(section, heading="What to do"),))
        for section in lap_sections(laps)
    ]
    sheets = (
        held(to_measure_sheet(house, base), holdpoints.SLAB),
        held(set_out_sheet(house, lines), holdpoints.SET_OUT),
        held(delivery_sheet(done.job, fixings), holdpoints.DELIVERY),
        held(bracing_sheet(bracing), holdpoints.BRACES),
        held(lifting_sheet(lifting), holdpoints.LIFTING),
        held(standing_sheet(bracing), holdpoints.STANDING),
        *lap_sheets,
        held(fixings_sheet(fixings), holdpoints.FIXINGS),
        held(sign_off_sheet(house), holdpoints.SIGN_OFF),
    )
    front = front_sheet(done, [sheet.title for sheet in sheets])
    document = {
        "sheets": [sheet.title for sheet in (front, *sheets)],
        "hold_points": [{"name": each.name, "text": each.text} for each in holdpoints.HOLD_POINTS],
        "slab": to_measure_document(house, base),
        "setout": set_out_document(house, lines),
        "lifts": lifting_document(lifting),
        "braces": bracing_document(bracing),
        "moves": [move.model_dump(mode="json", by_alias=True) for move in done.plan.moves],
        "laps": laps_document(laps),
        "fixings": fixings_document(fixings),
    }
    return Booklet((front, *sheets), document)
