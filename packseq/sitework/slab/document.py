"""The slab as measured, as plain data: lengths in mm, angles in degrees."""

from __future__ import annotations

from typing import Any

from packseq.house.model import House
from packseq.sitework.slab.build import Base, Measured
from packseq.sitework.slab.edgewords import EdgeChoices, edge_ends
from packseq.sitework.slab.levels import Levels
from packseq.sitework.slab.model import Checked, Fit
from packseq.sitework.slab.shape import corner_shapes, sides
from packseq.sitework.slab.toread import pairs_to_measure

Document = dict[str, Any]


def slab_document(
    house: House, base: Base, measured: Measured | None, levels: Levels | None, choices: EdgeChoices
) -> Document:
    """Return what was measured of a slab; None for what was not."""
    return {
        "scenario_sha256": house.scenario.sha256,
        "base": base.corners,
        "measured": None if measured is None else _measured(house, measured, choices),
        "levels": None if levels is None else _levels(levels, choices.level_mm),
    }


def to_measure_document(house: House, base: Base) -> Document:
    """Return the pairs of corners to measure."""
    return {
        "scenario_sha256": house.scenario.sha256,
        "base": base.corners,
        "pairs": pairs_to_measure(house.scenario.slab, base.corners),
    }


def _measured(house: House, measured: Measured, choices: EdgeChoices) -> Document:
    done = measured.adjusted
    return {
        "spare_tapes": done.spare_tapes,
        "unit_error": _rounded(done.unit_error, 3),
        "agrees": done.agrees,
        "suspect_rows": [each.tape.row for each in done.suspects],
        "blank_rows": [row for row, _ in measured.tapes.blank],
        "corners": [
            {
                "corner": each.name,
                "at_mm": [round(value, 2) for value in each.at],
                "sd_mm": [round(value, 2) for value in each.sd_mm],
                "angle_deg": round(each.angle_deg, 5),
                "turned_deg": round(each.turned_deg, 5),
                "out_of_square_mm": round(each.out_mm, 2),
                "over_mm": round(each.over_mm, 1),
            }
            for each in corner_shapes(house.scenario.slab, done)
        ],
        "sides": [
            {
                "side": side.name,
                "drawn_mm": round(side.drawn_mm, 2),
                "measured_mm": round(side.measured_mm, 2),
            }
            for side in sides(house.scenario.slab, done)
        ],
        "tapes": [_tape(each) for each in done.tapes],
        "fit": None if measured.fit is None else _fit(measured.fit, choices),
    }


def _tape(each: Checked) -> Document:
    return {
        "row": each.tape.row,
        "corners": each.tape.corners,
        "measured_mm": each.tape.measured_mm,
        "sd_mm": round(each.tape.sd_mm, 2),
        "adjusted_mm": round(each.adjusted_mm, 2),
        "off_mm": round(each.off_mm, 2),
        "spare": round(each.spare, 4),
        "score": _rounded(each.score, 2),
        "blunder_mm": _rounded(each.blunder_mm, 1),
        "seen_from_mm": _rounded(each.seen_from_mm, 1),
    }


def _fit(fit: Fit, choices: EdgeChoices) -> Document:
    return {
        "along_mm": round(fit.along_mm, 2) + 0.0,
        "inward_mm": round(fit.inward_mm, 2) + 0.0,
        "worst_mm": round(fit.worst_mm, 2),
        "ends": [
            {
                "wall": each.wall,
                "edge": each.edge,
                "toward": each.corner,
                "drawn_mm": round(each.drawn_mm, 2) + 0.0,
                "over_mm": round(each.over_mm, 2) + 0.0,
                "line_in_mm": round(each.line_mm, 2),
                "to_do": each.to_do,
            }
            for each in edge_ends(fit, choices)
        ],
    }


def _levels(levels: Levels, within_mm: float) -> Document:
    return {
        "span_mm": round(levels.span_mm, 2),
        "within_mm": within_mm,
        "blank_rows": levels.blank_rows,
        "stations": [
            {
                "row": spot.station.row,
                "frame": spot.station.frame,
                "at_mm": spot.station.at_mm,
                "over_mean_mm": round(spot.over_mean_mm, 2),
                "is": spot.verdict(within_mm),
                "packing_mm": round(spot.packing_mm, 2),
            }
            for spot in levels.spots
        ],
    }


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
