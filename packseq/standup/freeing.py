"""What would free a job that has no plan: small changes to the site, each tried before it is told."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Iterator
from dataclasses import replace

import shapely

from packseq.geometry import Point, Ring, overlap
from packseq.house.model import House
from packseq.scenario.model import Pack, Place, Spot, StandChoices
from packseq.standup.job import Job, across

_SECONDS = 5.0
_MOST_TOLD = 3
_MORE_HELD = 2
_MORE_ROOM = 3
# How far a pack or spot is moved to get clear, and in which steps, in mm and degrees.
_STEP_MM, _FARTHEST_MM, _TURN_DEG = 500, 8000, 45

HasPlan = Callable[[House], bool]
_Change = tuple[str, House]


def freed_by(job: Job, shut_out: frozenset[str], has_plan: HasPlan) -> tuple[str, ...]:
    """Return changes that free a job without a plan, most telling first, as far as a few seconds show.

    Parameters
    ----------
    job
        The job; its rules are those in conflict.
    shut_out
        Frames in it that are left without a way in.
    has_plan
        Tells whether a house with one thing changed has a plan.
    """
    over = time.monotonic() + _SECONDS
    told: list[str] = []
    for changes in _kinds_of_change(job, shut_out):
        # Of each kind the first that helps is enough.
        for text, house in changes:
            if time.monotonic() > over:
                return tuple(told)
            if has_plan(house):
                told.append(text)
                break
        if len(told) == _MOST_TOLD:
            break
    return tuple(told)


def _kinds_of_change(job: Job, shut_out: frozenset[str]) -> Iterator[Iterator[_Change]]:
    house, rules = job.house, job.rules
    packs = job.scenario.packs
    if "perimeter-first" in rules:
        yield _held_open(house)
    if "way-in" in rules:
        for name in sorted({job.scenario.pack_of[frame] for frame in shut_out}):
            yield _landed_inside(job, packs[name], shut_out)
    if "ground-clear" in rules:
        for pack in packs.values():
            if job.across[pack.name]:
                yield _landed_clear(job, pack)
        for spot in job.scenario.spots.values():
            if across(job.scenario, spot.footprint, spot.level):
                yield _moved_clear(job, spot)
    if "spot-room" in rules and job.scenario.spots:
        yield _leaning(house)
        yield _larger(job)
    if "lap-order" in rules and job.scenario.stand.lap == "one-way":
        yield iter([("lap both ways", _standing(house, replace(job.scenario.stand, lap="both-ways")))])


def _held_open(house: House) -> Iterator[_Change]:
    stand = house.scenario.stand
    for more in range(1, _MORE_HELD + 1):
        count = stand.hold_open + more
        text = f"hold {count} frame{'' if count == 1 else 's'} open"
        yield text, _standing(house, replace(stand, hold_open=count))


def _landed_inside(job: Job, pack: Pack, shut_out: frozenset[str]) -> Iterator[_Change]:
    """Try a pack beside the lines of its frames that are shut out."""
    slab = shapely.Polygon(job.scenario.slab)
    for name in sorted(shut_out.intersection(pack.frames)):
        frame = job.scenario.frames[name]
        angle = math.radians(frame.bearing_deg + 90)
        for side in (1, -1):
            for away_mm in (pack.width_mm / 2 + _STEP_MM, pack.width_mm + _STEP_MM):
                at = (
                    float(round(frame.middle[0] + side * away_mm * math.cos(angle), -2)),
                    float(round(frame.middle[1] + side * away_mm * math.sin(angle), -2)),
                )
                place = Place(at, frame.bearing_deg)
                if slab.covers(shapely.Polygon(pack.footprint(place))):
                    text = f"land pack {pack.name} inside, about {at[0]:.0f}, {at[1]:.0f}"
                    yield text, _landed(job.house, pack, place)


def _landed_clear(job: Job, pack: Pack) -> Iterator[_Change]:
    place = job.places[pack.name]
    at = _clear(job, pack.name, pack.level, place.at, lambda at: pack.footprint(Place(at, place.bearing_deg)))
    if at is not None:
        text = f"land pack {pack.name} clear of the lines, about {at[0]:.0f}, {at[1]:.0f}"
        yield text, _landed(job.house, pack, Place(at, place.bearing_deg))


def _moved_clear(job: Job, spot: Spot) -> Iterator[_Change]:
    at = _clear(job, spot.name, spot.level, spot.at, lambda at: replace(spot, at=at).footprint)
    if at is not None:
        text = f"move spot {spot.name} clear of the lines, about {at[0]:.0f}, {at[1]:.0f}"
        yield text, _with_spots(job.house, [replace(spot, at=at)])


def _clear(job: Job, name: str, level: int, start: Point, ground: Callable[[Point], Ring]) -> Point | None:
    """Return the nearest point from which ground covers no line, no-go area, and no other pack or spot."""
    scenario = job.scenario
    taken = [frame.footprint for frame in scenario.frames.values() if frame.level == level]
    taken += scenario.no_go
    taken += [
        pack.footprint(job.places[pack.name])
        for pack in scenario.packs.values()
        if pack.level == level and pack.name != name
    ]
    taken += [spot.footprint for spot in scenario.spots.values() if spot.level == level and spot.name != name]
    for away_mm in range(_STEP_MM, _FARTHEST_MM + 1, _STEP_MM):
        for turn_deg in range(0, 360, _TURN_DEG):
            angle = math.radians(turn_deg)
            at = (
                float(round(start[0] + away_mm * math.cos(angle))),
                float(round(start[1] + away_mm * math.sin(angle))),
            )
            if not any(overlap(ground(at), other) for other in taken):
                return at
    return None


def _leaning(house: House) -> Iterator[_Change]:
    for spot in house.scenario.spots.values():
        if spot.kind == "pile":
            yield f"let spot {spot.name} be a lean", _with_spots(house, [replace(spot, kind="lean")])


def _larger(job: Job) -> Iterator[_Change]:
    """Try room for more frames on a spot, then a spot long and wide enough for any frame of its level."""
    spots = job.scenario.spots.values()
    for more in range(1, _MORE_ROOM + 1):
        for spot in spots:
            count = spot.holds + more
            yield (
                f"give spot {spot.name} room for {count}",
                _with_spots(job.house, [replace(spot, holds=count)]),
            )
    for spot in spots:
        here = [frame for frame in job.scenario.frames.values() if frame.level == spot.level]
        size = (
            max(spot.size_mm[0], *(frame.length_mm for frame in here)),
            max(spot.size_mm[1], *(frame.height_mm for frame in here)),
        )
        text = f"make spot {spot.name} {size[0]:.0f} x {size[1]:.0f} mm"
        yield text, _with_spots(job.house, [replace(spot, size_mm=size)])


def _standing(house: House, stand: StandChoices) -> House:
    return replace(house, scenario=replace(house.scenario, stand=stand))


def _landed(house: House, pack: Pack, place: Place) -> House:
    packs = {**house.scenario.packs, pack.name: replace(pack, places=(place,))}
    return replace(house, scenario=replace(house.scenario, packs=packs))


def _with_spots(house: House, changed: list[Spot]) -> House:
    spots = {**house.scenario.spots, **{spot.name: spot for spot in changed}}
    return replace(house, scenario=replace(house.scenario, spots=spots))
