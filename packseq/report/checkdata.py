"""What was understood of a scenario as plain data, for ``--json``: lengths in mm, masses in kg."""

from __future__ import annotations

from typing import Any

from packseq.house.doubts import doubtful_ends
from packseq.house.model import House
from packseq.report.frames import joins_of
from packseq.report.understood import warnings_of

Document = dict[str, Any]


def understood_document(house: House) -> Document:
    """Return what was understood of a job."""
    scenario = house.scenario
    stand = scenario.stand
    return {
        "scenario": scenario.name,
        "scenario_sha256": scenario.sha256,
        "warnings": warnings_of(house),
        "doubts": doubtful_ends(house),
        "crew": {"people": scenario.crew.people, "share_kg": scenario.crew.share_kg},
        "stand": {
            "lap": stand.lap,
            "direction": stand.direction,
            "hold_open": stand.hold_open,
            "internals": "any-time" if stand.internals_any_time else "after-perimeter",
            "lift_worth_m": stand.lift_worth_m,
        },
        "levels": [
            {
                "level": level.level,
                "reference": level.reference,
                "perimeter": level.perimeter,
                "closed": level.closed,
                "internals": level.internals,
            }
            for level in house.levels
        ],
        "runs": [
            {"name": run.name, "level": run.level, "location": run.location, "length_mm": run.length_mm}
            | {"side": run.side, "frames": run.frames}
            for run in house.runs
        ],
        "gaps": scenario.gaps,
        "frames": _frames(house),
        "packs": _packs(house),
        "spots": [
            {"spot": spot.name, "level": spot.level, "kind": spot.kind, "holds": spot.holds}
            | {"at_mm": spot.at, "bearing_deg": spot.bearing_deg, "size_mm": spot.size_mm}
            for spot in scenario.spots.values()
        ],
    }


def _frames(house: House) -> list[Document]:
    joins = joins_of(house)
    return [
        {
            "frame": frame.name,
            "level": frame.level,
            "location": house.locations[frame.name],
            "wall": house.run_of[frame.name].name,
            "length_mm": frame.length_mm,
            "height_mm": frame.height_mm,
            "thickness_mm": frame.thickness_mm,
            "mass_kg": frame.mass_kg,
            "mass_is_estimate": frame.mass_is_estimate,
            "people": house.scenario.crew.team(frame.mass_kg),
            "openings": [
                {"kind": opening.kind, "from_mm": opening.from_mm, "width_mm": opening.width_mm}
                | {"sill_mm": opening.sill_mm, "head_mm": opening.head_mm}
                for opening in frame.openings
            ],
            "joins": [{"kind": kind, "frame": other} for kind, other in joins[frame.name]],
        }
        for frame in house.scenario.frames.values()
    ]


def _packs(house: House) -> list[Document]:
    return [
        {
            "pack": pack.name,
            "level": pack.level,
            "places_mm": [(*place.at, place.bearing_deg) for place in pack.places],
            "size_mm": (pack.length_mm, pack.width_mm),
            "holds": pack.holds,
            "layers": [
                {"layer": number, "frames": layer}
                for number, layer in zip(pack.layer_numbers, pack.layers, strict=True)
            ],
        }
        for pack in house.scenario.packs.values()
    ]
