"""The set-out as plain data, lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from packseq.house.model import House
from packseq.sitework.setout.model import SetOut
from packseq.sitework.slabedges import corners_at, level_edges


def set_out_document(house: House, every: Sequence[SetOut]) -> dict[str, Any]:
    """Return the set-out of every level."""
    return {
        "scenario_sha256": house.scenario.sha256,
        "slab_corners_mm": corners_at(house.scenario.slab),
        "levels": [_level(house, each) for each in every],
    }


def _level(house: House, done: SetOut) -> dict[str, Any]:
    return {
        "level": done.level,
        "offset_mm": done.choices.offset_mm,
        "reach_mm": done.choices.reach_mm,
        "zero_mm": _rounded(done.zero),
        "lines": [
            {
                "line": line.number,
                "role": line.role,
                "lies": line.lie,
                "running_mm": None if line.running_mm is None else round(line.running_mm, 1),
                "start_mm": _rounded(line.start),
                "end_mm": _rounded(line.end),
                "marked_on": line.marked_on,
                "serves": [
                    {
                        "wall": served.wall.name,
                        "frames": served.wall.frames,
                        "off_mm": round(served.off_mm, 1),
                    }
                    for served in line.serves
                ],
            }
            for line in done.lines
        ],
        "rectangles": [
            {"proves": each.proves, "along": each.along, "across": each.across}
            | {"sides_mm": _rounded((each.along_mm, each.across_mm)), "diagonals": each.diagonals}
            | {"diagonal_mm": round(each.diagonal_mm, 1)}
            for each in done.rectangles
        ],
        "triangles": [
            {"stand_at": f"{each.reference}/{each.square}", "along_reference_mm": each.along_reference_mm}
            | {"along_square_mm": each.along_square_mm, "long_side_mm": each.long_side_mm}
            for each in done.triangles
        ],
        "slab_edges": [
            {"wall": each.wall.name, "edge": each.edge.name, "over_mm": _rounded(each.drawn_mm)}
            for each in level_edges(house, done.level)
        ],
    }


def _rounded(values: Sequence[float]) -> list[float]:
    # Adding zero makes no figure a negative nought.
    return [round(value, 1) + 0.0 for value in values]
