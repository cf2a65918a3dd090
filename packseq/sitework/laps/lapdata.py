"""The laps as plain data."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from packseq.sitework.laps.study import Laps, LevelLaps, Read


def laps_document(laps: Laps) -> dict[str, Any]:
    """Return the laps of every level, lengths in mm."""
    plates = laps.choices.plates
    return {
        "external_rule": asdict(plates.external),
        "internal_rule": asdict(plates.internal),
        "hold_downs": sorted(plates.hold_downs),
        "station_mm": laps.choices.station_mm,
        "levels": [_level(laps, level) for level in laps.levels],
    }


def _level(laps: Laps, level: LevelLaps) -> dict[str, Any]:
    return {
        "level": level.level,
        "joins": [{"frames": join.frames, "kind": join.kind} for join in level.joins],
        "strings": [
            {
                "wall": line.wall.name,
                "from": line.hook,
                "length_mm": round(line.wall.length_mm, 1),
                "frames": line.frames,
                "bottom": [_read(each) for each in line.bottom],
                "top": [_read(each) for each in line.top],
            }
            for line in level.lines
        ],
        "plates": [{**asdict(plate), "from": laps.tapes[plate.frame].hook} for plate in level.plates],
        "parallels": [
            {
                "wall": parallel.wall.name,
                "frames": parallel.wall.frames,
                "measured": [
                    {"from": taped.start_wall, "at": taped.at_end, "mm": round(taped.mm, 1)}
                    for taped in parallel.taped
                ],
            }
            for parallel in level.parallels
        ],
        "corners": [list(pair) for pair in level.corners],
        "junctions": [{"frames": join.frames, "kind": join.kind} for join in level.junctions],
    }


def _read(read: Read) -> dict[str, Any]:
    return {
        "at_mm": round(read.station.at_mm),
        "what": read.station.what,
        "frame": read.frame,
        "from_end_1_mm": round(read.from_end_1_mm),
    }
