"""The places of a house where fixings go, by kind."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import get_args

from packseq.house.model import House, Join, JoinKind
from packseq.scenario.model import Frame, Opening
from packseq.sitework.laps.plates import Plate

JOIN_KINDS: tuple[JoinKind, ...] = get_args(JoinKind)

KINDS: tuple[str, ...] = (
    *JOIN_KINDS,
    "opening",
    "external opening",
    "internal opening",
    "frame",
    "external frame",
    "internal frame",
    "plate",
    "external plate",
    "internal plate",
)
"""What a schedule may say under `where`, besides a frame; a plate is each fixing place of a bottom plate."""


@dataclass(frozen=True, slots=True)
class Place:
    """One place in words, the frames that meet there, and how many fixings a rule for each makes there."""

    words: str
    frames: tuple[str, ...]
    times: int = 1


Places = Mapping[str, tuple[Place, ...]]
"""The places of each kind, and each frame as a place of its own name."""


def places_of(house: House, plates: Iterable[Plate]) -> Places:
    """Return every place of a house where a schedule may put fixings.

    Parameters
    ----------
    house
        The house.
    plates
        Its bottom plates on the slab with their fixings (`packseq laps`), in the order of the lap.
    """
    found: defaultdict[str, list[Place]] = defaultdict(list)
    for join in house.joins:
        found[join.kind].append(join_place(join))
    for frame in house.scenario.frames.values():
        location = house.locations[frame.name]
        own = Place(frame.name, (frame.name,))
        for kind in (frame.name, "frame", f"{location} frame"):
            found[kind].append(own)
        for opening in frame.openings:
            for kind in ("opening", f"{location} opening"):
                found[kind].append(opening_place(frame, opening))
    for place in plate_places(plates):
        location = house.locations[place.frames[0]]
        for kind in ("plate", f"{location} plate"):
            found[kind].append(place)
    return {kind: tuple(found[kind]) for kind in (*KINDS, *house.scenario.frames)}


def join_place(join: Join) -> Place:
    """Return a join as a place, in words its two frames."""
    return Place("/".join(join.frames), join.frames)


def opening_place(frame: Frame, opening: Opening) -> Place:
    """Return an opening as a place: its frame, and where it begins from end 1."""
    return Place(f"{frame.name} {opening.kind} at {opening.from_mm:.0f}", (frame.name,))


def plate_places(plates: Iterable[Plate]) -> tuple[Place, ...]:
    """Return the bottom plate of each frame as a place, with as many fixings as the laps give it."""
    counts: dict[str, int] = {}
    for plate in plates:
        counts[plate.frame] = counts.get(plate.frame, 0) + len(plate.fixings_mm or ())
    return tuple(Place(name, (name,), count) for name, count in counts.items())
