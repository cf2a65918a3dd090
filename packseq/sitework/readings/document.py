"""Readings as plain data, lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from packseq.house.model import House
from packseq.sitework.readings.file import COLUMNS
from packseq.sitework.readings.model import Judged, Readings
from packseq.sitework.readings.squareness import Squareness
from packseq.sitework.readings.tolerances import SETS, ToleranceSet

Document = dict[str, Any]


def readings_document(
    house: House,
    readings: Readings,
    results: Sequence[Judged],
    square: Sequence[Squareness],
    limits: ToleranceSet,
) -> Document:
    """Return every reading with its verdict, worst first."""
    return {
        "scenario_sha256": house.scenario.sha256,
        "tolerances": limits_document(limits),
        "readings": [_judged(each) for each in results],
        "squareness": [
            {
                "level": each.level,
                "proves": each.rectangle.proves,
                "differ_mm": round(each.differ_mm, 2),
                "out_of_square_mm": round(each.out_mm, 2),
                "over_mm": round(each.over_mm, 1),
            }
            for each in square
        ],
        "not_measured": [{"row": row, "what": what} for row, what in readings.blank],
    }


def to_read_document(house: House) -> Document:
    """Return what a file of readings holds and which sets of limits there are."""
    return {
        "scenario_sha256": house.scenario.sha256,
        "columns": dict(COLUMNS),
        "tolerance_sets": [limits_document(each) for each in SETS.values()],
    }


def limits_document(limits: ToleranceSet) -> Document:
    """Return a set of limits."""
    return {
        "name": limits.name,
        "limits": {
            check: {
                "within_mm": limit.within_mm,
                "over_mm": limit.over_mm,
                "most_mm": limit.most_mm,
                "pro_rated": limit.pro_rated,
                "source": limit.source,
            }
            for check, limit in limits.limits.items()
        },
    }


def _judged(each: Judged) -> Document:
    task = each.reading.task
    return {
        "row": each.reading.row,
        "check": task.check,
        "level": task.level,
        "where": task.where,
        "at_mm": task.at_mm,
        "place": task.place,
        "reading_mm": each.reading.reading_mm,
        "expected_mm": round(task.expected_mm, 2),
        "off_mm": round(each.reading.off_mm, 2) + 0.0,
        "limit_mm": None if each.allowed_mm is None else round(each.allowed_mm, 2),
        "give_or_take_mm": round(task.give_or_take_mm, 2),
        "verdict": each.verdict,
        "to_do": each.to_do,
    }
