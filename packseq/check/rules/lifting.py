"""Rules about what may be lifted, by whom, and where it may be put down."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check.job import Lift, listed
from packseq.check.state import Heap


def top_of_pack(lift: Lift) -> Iterator[str]:
    """Lift a frame only when every frame in the layers above it has gone."""
    above = lift.state.above(lift.frame.name)
    if lift.source.kind == "pack" and above:
        yield f"{lift.frame.name} is lifted from under {listed(above)} in {lift.source}"


def spot_room(lift: Lift) -> Iterator[str]:
    """Take from a pile the last one put down, and put down only what has room."""
    above = lift.state.above(lift.frame.name)
    if lift.source.kind == "pile" and above:
        yield f"{lift.frame.name} is taken from under {listed(above)} on {lift.source}"
    if lift.target is not None:
        room = _pack_room if lift.target.kind == "pack" else _spot_room
        yield from room(lift, lift.target)


def _pack_room(lift: Lift, target: Heap) -> Iterator[str]:
    name, pack = lift.frame.name, lift.job.house.scenario.packs[target.name]
    layers = len(lift.state.heaps[target])
    if lift.source == target:
        yield f"{name} is set aside on {target}, where it lies already"
    if lift.frame.level != pack.level:
        yield f"{name} of level {lift.frame.level} is set aside on {target} of level {pack.level}"
    if pack.holds == 0:
        yield f"{name} is set aside on {target}, which takes none"
    elif layers > pack.holds:
        yield f"{name} is set aside on {target} of {layers} layers; at most {pack.holds} may take one more"


def _spot_room(lift: Lift, target: Heap) -> Iterator[str]:
    name, frame, spot = lift.frame.name, lift.frame, lift.job.spots[target.name]
    length, width = spot.size_mm
    if frame.level != spot.level:
        yield f"{name} of level {frame.level} is set aside on {target} of level {spot.level}"
    unsupported = lift.missing(spot.against)
    if unsupported:
        yield f"{name} is set aside on {target}, which leans on {listed(unsupported)} before that stands"
    others = [other for other in lift.state.lying(target) if other != name]
    if len(others) >= spot.holds:
        yield f"{name} is set aside on {target}, which is full at {spot.holds}"
    if frame.length_mm > length:
        yield f"{name} is {frame.length_mm:.0f} mm long, {target} {length:.0f} mm"
    if spot.kind == "pile" and frame.height_mm > width:
        yield f"{name} is {frame.height_mm:.0f} mm tall, {target} {width:.0f} mm wide"


def crew_lift(lift: Lift) -> Iterator[str]:
    """Give a frame the people it needs, and have them."""
    crew = lift.job.house.scenario.crew
    need = crew.team(lift.frame.mass_kg)
    if need > crew.people:
        yield f"{lift.frame.name} needs {need} people, the crew has {crew.people}"
    if lift.people < need:
        yield f"{lift.frame.name} needs {need} people, the plan gives it {lift.people}"
