"""Rules on lifting frames off packs and letting them wait on spots."""

from __future__ import annotations

from itertools import combinations, pairwise

from packseq.geometry import overlap
from packseq.scenario.model import Spot
from packseq.standup.variables import Literal, Variables


def top_of_pack(v: Variables) -> None:
    """Lift a frame only when every frame in the layers above it has gone."""
    for pack in v.job.scenario.packs.values() if v.timed else ():
        for upper_layer, lower_layer in pairwise(pack.layers):
            for upper in upper_layer:
                for lower in lower_layer:
                    v.model.add(v.off[upper] < v.off[lower])
    for frame in v.job.moved:
        for lower in v.job.beneath(frame):
            if lower in v.up:
                v.model.add_implication(v.before(lower, frame), v.aside[frame])


def spot_room(v: Variables) -> None:
    """Put no more frames on a spot than it holds, and take the last one down first from a pile."""
    if not v.timed:
        return
    for spot in v.job.spots.values():
        waiting = [frame for frame in v.job.waiting if (frame, spot.name) in v.at]
        if len(waiting) > spot.holds:
            _capacity(v, spot, waiting)
    piles = [spot for spot in v.job.spots.values() if spot.kind == "pile"]
    for first, second in combinations(v.job.waiting, 2):
        shared = [spot for spot in piles if (first, spot.name) in v.at and (second, spot.name) in v.at]
        if shared:
            _last_on_first_off(v, first, second, shared)


def _capacity(v: Variables, spot: Spot, waiting: list[str]) -> None:
    stays = []
    for frame in waiting:
        length = v.model.new_int_var(0, v.job.moves, "")
        stays.append(
            v.model.new_optional_interval_var(
                v.off[frame], length, v.up[frame], v.at[frame, spot.name], f"{frame} on {spot.name}"
            )
        )
    v.model.add_cumulative(stays, [1] * len(stays), spot.holds)


def _last_on_first_off(v: Variables, first: str, second: str, piles: list[Spot]) -> None:
    """Have the frame put down first in a pile leave last, or be gone before the other comes."""
    down_first = v.model.new_bool_var(f"{first} down before {second}")
    v.model.add(v.off[first] < v.off[second]).only_enforce_if(down_first)
    v.model.add(v.off[second] < v.off[first]).only_enforce_if(~down_first)
    for under, over, under_first in ((first, second, down_first), (second, first, ~down_first)):
        gone = v.model.new_bool_var(f"{under} gone before {over} comes")
        v.model.add(v.up[under] < v.off[over]).only_enforce_if(gone)
        for pile in piles:
            together: list[Literal] = [v.at[under, pile.name], v.at[over, pile.name]]
            v.model.add_bool_or([*(~here for here in together), ~under_first, v.before(over, under), gone])


def ground_clear(v: Variables) -> None:
    """Stand a frame only where no pack with frames, and no spot with frames, lies over its line."""
    job = v.job
    for pack, lines in job.across.items():
        for name in lines:
            if name not in v.up:
                continue
            for other in job.scenario.packs[pack].frames:
                if other != name:
                    v.model.add_bool_or([v.before(other, name), v.aside[other]])
                    if v.timed:
                        v.model.add(v.off[other] < v.up[name])
    for name in job.todo:
        frame = job.scenario.frames[name]
        for spot in job.spots.values():
            if spot.level == frame.level and overlap(frame.footprint, spot.footprint):
                for other in job.waiting:
                    if other != name and (other, spot.name) in v.at:
                        v.model.add_implication(v.at[other, spot.name], v.before(other, name))


def crew_lift(v: Variables) -> None:
    """Refuse a frame that needs more people than the crew has."""
    crew = v.job.scenario.crew
    for name in v.job.moved:
        if crew.team(v.job.scenario.frames[name].mass_kg) > crew.people:
            v.model.add_bool_or([])
