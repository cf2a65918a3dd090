"""What people on site call each run."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from packseq.geometry import bearing_deg
from packseq.house.model import Run
from packseq.house.runs import far_ends
from packseq.house.shapes import Leg
from packseq.scenario.model import Location

_EIGHTH_DEG = 45.0
_COMPASS = ("east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east")
_LIES = ("east-west", "north-east to south-west", "north-south", "north-west to south-east")


def facing(run: Sequence[Leg]) -> str:
    """Return the compass side that an external run faces: outdoors lies right of the way anticlockwise."""
    return _COMPASS[_eighth(run, turned_deg=-90.0)]


def lying(run: Sequence[Leg]) -> str:
    """Return the direction in which an internal run lies, such as "east-west"."""
    return _LIES[_eighth(run, turned_deg=0.0) % len(_LIES)]


def name_runs(
    external: Sequence[Sequence[Leg]], internal: Sequence[Sequence[Leg]], prefix: str
) -> tuple[Run, ...]:
    """Return the runs of one level under the names that people use on site.

    Parameters
    ----------
    external
        Anticlockwise, beginning with the run that holds the reference wall; several that
        face the same way are numbered in this order: "south wall 1", "south wall 2".
    internal
        In the order in which they are to be numbered: "internal wall 1 (east-west)".
    prefix
        Put before each name, such as "level 2 ", or "".
    """
    sides = [facing(run) for run in external]
    of_side, met = Counter(sides), Counter[str]()
    named = []
    for run, side in zip(external, sides, strict=True):
        met[side] += 1
        number = f" {met[side]}" if of_side[side] > 1 else ""
        named.append(_run(run, f"{prefix}{side} wall{number}", "external", side))
    for place, run in enumerate(internal, start=1):
        named.append(_run(run, f"{prefix}internal wall {place} ({lying(run)})", "internal", lying(run)))
    return tuple(named)


def _run(legs: Sequence[Leg], name: str, location: Location, side: str) -> Run:
    return Run(
        name=name,
        level=legs[0].frame.level,
        location=location,
        frames=tuple(leg.frame.name for leg in legs),
        length_mm=round(math.dist(*far_ends(legs)), 1),
        side=side,
    )


def _eighth(run: Sequence[Leg], turned_deg: float) -> int:
    """Return the nearest of the eight compass points to the run's direction, 0 for east, anticlockwise."""
    bearing = round(bearing_deg(*far_ends(run)) + turned_deg, 2)
    return math.floor(bearing / _EIGHTH_DEG + 0.5) % len(_COMPASS)
