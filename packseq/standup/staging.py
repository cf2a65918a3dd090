"""Spots for a scenario that names none: a pile and a lean beside each pack, clear of what must stand."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import shapely

from packseq.geometry import Point
from packseq.scenario.model import Pack, Place, Scenario, Spot, SpotKind

# Common practice, no source: room to walk between a pack and what is stacked beside it.
AISLE_MM = 1000.0
LEAN_WIDTH_MM = 1200.0


def proposed_spots(scenario: Scenario, places: Mapping[str, Place]) -> dict[str, Spot]:
    """Return a pile and a lean for each pack, each as near to it as the ground allows.

    A spot lies alongside its pack, clear of every frame's line, pack, no-go area and other spot.
    A pile holds what the pack holds of frames its size, the lean as many. None is proposed where
    there is no room.
    """
    taken = [shapely.Polygon(frame.footprint) for frame in scenario.frames.values()]
    taken += [shapely.Polygon(outline) for outline in scenario.no_go]
    taken += [shapely.Polygon(pack.footprint(places[pack.name])) for pack in scenario.packs.values()]
    centre = shapely.Polygon(scenario.slab).centroid
    spots: dict[str, Spot] = {}
    for pack in scenario.packs.values():
        kinds: tuple[tuple[SpotKind, float], ...] = (("lean", LEAN_WIDTH_MM), ("pile", pack.width_mm))
        for kind, width in kinds:
            name = f"S{len(spots) + 1}"
            candidates = [
                Spot(
                    name,
                    pack.level,
                    at,
                    places[pack.name].bearing_deg,
                    (pack.length_mm, width),
                    kind,
                    len(pack.frames),
                )
                for at in _beside(pack, places[pack.name], width)
            ]
            free = [
                spot
                for spot in candidates
                if not any(shapely.Polygon(spot.footprint).intersects(shape) for shape in taken)
            ]
            if free:
                best = min(free, key=lambda spot: (round(math.dist(spot.at, (centre.x, centre.y))), spot.at))
                spots[name] = best
                taken.append(shapely.Polygon(best.footprint))
    return spots


def _beside(pack: Pack, place: Place, width: float) -> Iterator[Point]:
    """Yield centres alongside and at the ends of a pack, an aisle away and further."""
    angle = math.radians(place.bearing_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    for step in range(3):
        out = (pack.width_mm + width) / 2 + AISLE_MM + step * (width + AISLE_MM)
        end = (step + 1) * (pack.length_mm + AISLE_MM)
        for direction, far in ((across, out), (along, end)):
            for sign in (1, -1):
                yield (
                    float(round(place.at[0] + sign * far * direction[0])),
                    float(round(place.at[1] + sign * far * direction[1])),
                )
