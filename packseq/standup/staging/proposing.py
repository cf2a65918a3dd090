"""Spots for a scenario that names none: a few of many places, near the way of the frames that must wait."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import get_args

import numpy as np
import shapely
from numpy.typing import NDArray

from packseq.house.model import House, LevelHouse
from packseq.plan.model import LapDirection
from packseq.scenario.model import Frame, Place, Spot
from packseq.standup.job import Job
from packseq.standup.rules import RULES
from packseq.standup.staging.candidates import beside_packs, candidates, room_round
from packseq.standup.staging.ground import Ground, level_ground

Lengths = NDArray[np.float64]
Flags = NDArray[np.bool_]

_MOST_CHOSEN = 5
"""Spots proposed for a level besides those that lie by a pack: more make the search slow."""
_WORTH_MM = 1000.0
"""A further spot must bring the frames that are likely to wait so much nearer, all together."""
_NEARER = 0.25
"""How much of its length the way from a spot to the line counts besides: nearer the line is better."""


def proposed_spots(house: House, places: Mapping[str, Place]) -> dict[str, Spot]:
    """Return the spots that a plan may use, with packs landed at their places.

    For each pack a lean close by that takes all its frames; and from many places in rooms to be, beside
    the building and along its walls the few that bring the frames that are likely to wait nearest to
    the straight way from their pack to their line. No spot covers a line, a pack, a no-go area or
    another spot; doorways, gaps and the frames that may be held open are kept clear on both sides, and
    in a room to be people get past it. Which spots are used, and for what, is for the search to say.
    """
    scenario = house.scenario
    spots: list[Spot] = []
    for level in house.levels:
        ground = level_ground(house, level, places)
        packs = [pack for pack in scenario.packs.values() if pack.level == level.level]
        here = beside_packs(ground, packs, scenario.frames, places)
        spots += [*here, *_chosen(house, level, ground, places, here)]
    named = (replace(spot, name=f"S{number}") for number, spot in enumerate(spots, 1))
    return {spot.name: spot for spot in named}


def _likely_to_wait(house: House, level: LevelHouse, places: Mapping[str, Place]) -> list[Frame]:
    """Return the frames that must wait whatever else is done; if none must, those that may have to."""
    jobs = [Job(house, direction, {}, places, frozenset(RULES)) for direction in get_args(LapDirection)]
    every = [frame for frame in house.scenario.frames.values() if frame.level == level.level]
    surely = [frame for frame in every if any(frame.name in job.surely_waiting for job in jobs)]
    return surely or [frame for frame in every if any(job.could_wait(frame.name) for job in jobs)]


def _chosen(
    house: House, level: LevelHouse, ground: Ground, places: Mapping[str, Place], taken: Sequence[Spot]
) -> list[Spot]:
    """Return those of many candidates that, taken one after another, bring the frames nearest each time."""
    waiting = _likely_to_wait(house, level, places)
    free = candidates(ground, house, level, waiting) if waiting else []
    if not free:
        return []
    shapes = np.asarray(shapely.polygons([spot.footprint for spot in free]))
    starts = np.array([places[house.scenario.pack_of[frame.name]].at for frame in waiting])
    indoors = np.array([frame.name in level.internals for frame in waiting])
    without = ~shapely.intersects(ground.inside, shapes)
    ways = _ways(free, waiting, starts, ground, without[:, np.newaxis] & indoors)
    best = np.full(len(waiting), np.inf)
    open_still = ~shapely.intersects(shapely.union_all([room_round(spot) for spot in taken]), shapes)
    chosen: list[Spot] = []
    while len(chosen) < _MOST_CHOSEN and open_still.any():
        saved = _saved(best, ways, [spot.holds for spot in free])
        saved[~open_still] = -1.0
        first = int(saved.argmax())
        if saved[first] < _WORTH_MM:
            break
        if not ground.leaves_a_way(shapes[first]):
            open_still[first] = False
            continue
        chosen.append(free[first])
        best = np.minimum(best, ways[first])
        open_still &= ~shapely.intersects(room_round(free[first]), shapes)
    return chosen


def _ways(
    spots: Sequence[Spot], frames: Sequence[Frame], starts: Lengths, ground: Ground, through: Flags
) -> Lengths:
    """Return how far it is for each frame by way of each spot, shape (spots, frames).

    Straight, but from a spot outside to a line inside by the nearest way in, as `through` has it; endless
    where the spot does not take the frame.
    """
    at = np.array([spot.at for spot in spots])
    lines = np.array([frame.middle for frame in frames])
    onward = _distances(at, lines)
    entries = np.array([door.middle for door in ground.doorways if door.way_in])
    if len(entries):
        round_by = (_distances(at, entries)[:, np.newaxis, :] + _distances(lines, entries)).min(axis=2)
        onward = np.where(through, round_by, onward)
    takes = np.array([[spot.takes(frame) for frame in frames] for spot in spots])
    ways: Lengths = np.where(takes, _distances(at, starts) + (1 + _NEARER) * onward, np.inf)
    return ways


def _distances(some: Lengths, others: Lengths) -> Lengths:
    """Return how far each of some points, shape (points, 2), lies from each of the others."""
    steps = some[:, np.newaxis, :] - others
    distances: Lengths = np.hypot(steps[..., 0], steps[..., 1])
    return distances


def _saved(best: Lengths, ways: Lengths, holds: Sequence[int]) -> Lengths:
    """Return how much nearer each spot brings the frames that gain most by it, as many as it holds."""
    most = np.where(np.isfinite(best), best, 1e9)
    gains = np.sort(np.maximum(most - np.minimum(ways, most), 0.0), axis=1)[:, ::-1]
    within = np.arange(gains.shape[1]) < np.array(holds)[:, np.newaxis]
    saved: Lengths = np.where(within, gains, 0.0).sum(axis=1)
    return saved
