"""A job that has begun, put as a job to begin: what lies on a spot lies in a pack of its own there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from packseq.house.model import House
from packseq.plan.begin import Begin, as_begun
from packseq.plan.model import Plan
from packseq.routes.engine import Routes
from packseq.scenario.model import Pack, Place, Spot

# Longer than any name may be, so that no pack of the scenario is called so.
_LYING_ON = "frames that lie on spot "


@dataclass(frozen=True)
class Begun:
    """Where a plan begins in the middle of the job, and what is known to go on from there.

    Parameters
    ----------
    begin
        What stands, what lies where, and what is left out.
    spots
        The spots there are.
    routes
        The ways between packs, spots and lines as they lie now.
    known
        Plans from there that keep every rule.
    """

    begin: Begin
    spots: Mapping[str, Spot]
    routes: Routes
    known: tuple[Plan, ...] = ()


def as_job(house: House, begun: Begun) -> House:
    """Return the house with its packs as they are now, and one more for each spot on which frames lie.

    So a frame on a spot is lifted like one off a pack: in a pile from the top. Frames that stand or are
    not there are in no pack.
    """
    begin = begun.begin
    now = as_begun(house, begin)
    packs = {
        name: replace(
            pack,
            layers=tuple(layer.frames for layer in begin.packs.get(name, ())),
            layer_numbers=tuple(layer.layer or 0 for layer in begin.packs.get(name, ())),
        )
        for name, pack in now.scenario.packs.items()
    }
    for name, frames in begin.spots.items():
        if frames:
            packs[lying_on(name)] = _pack_on(begun.spots[name], frames)
    return replace(now, scenario=replace(now.scenario, packs=packs))


def lying_on(spot: str) -> str:
    """Return the name of the pack that stands in for what lies on a spot."""
    return f"{_LYING_ON}{spot}"


def _pack_on(spot: Spot, frames: tuple[str, ...]) -> Pack:
    layers = (frames,) if spot.kind == "lean" else tuple((name,) for name in reversed(frames))
    place = Place(spot.at, spot.bearing_deg)
    numbers = tuple(range(1, len(layers) + 1))
    return Pack(lying_on(spot.name), spot.level, (place,), 0, layers, numbers, *spot.size_mm)
