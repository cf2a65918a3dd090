"""Rules on the order of standing."""

from __future__ import annotations

from itertools import pairwise

from packseq.house.model import LevelHouse
from packseq.standup.job import ShutOut
from packseq.standup.surely import reference_pairs
from packseq.standup.variables import Variables, total


def reference_first(v: Variables) -> None:
    """Stand the reference wall's frames first, from one end of it to the other."""
    for level in v.job.house.levels:
        for earlier, later in reference_pairs(level, v.job.direction):
            if earlier in v.up and later in v.up:
                v.model.add(v.up[earlier] < v.up[later])


def lap_order(v: Variables) -> None:
    """Stand the perimeter one way, as one unbroken stretch, or freely."""
    lap = v.job.scenario.stand.lap
    for level in v.job.house.levels:
        order = level.stand_round(v.job.direction)
        if lap == "one-way":
            for earlier, later in pairwise(frame for frame in order if frame in v.up):
                v.model.add(v.up[earlier] < v.up[later])
        elif lap == "both-ways" and _one_stretch(v, order, len(level.reference)):
            _unbroken(v, order, len(level.reference))


def _one_stretch(v: Variables, order: tuple[str, ...], reference: int) -> bool:
    """Tell whether what stands of a perimeter hangs together, as it does where the rules were kept."""
    wall, rest = (
        "".join("x" if frame in v.job.stood else " " for frame in part)
        for part in (order[:reference], order[reference:])
    )
    return not rest.strip() or (" " not in wall and "x" not in rest.strip("x"))


def _unbroken(v: Variables, order: tuple[str, ...], reference: int) -> None:
    """Grow the stretch at either end: some frames follow the reference wall on, the others meet them back."""
    rest = order[reference:]
    onward = {frame: v.model.new_bool_var(f"onward {frame}") for frame in rest}
    for earlier, later in pairwise(rest):
        v.model.add_implication(onward[later], onward[earlier])
        if earlier not in v.up and later not in v.up:
            continue
        v.model.add_implication(onward[later], v.before(earlier, later))
        v.model.add_implication(~onward[earlier], v.before(later, earlier))


def joined(v: Variables) -> None:
    """Join every frame but the first of its level to a standing one when it is stood."""
    house = v.job.house
    for level in house.levels:
        here = (*level.perimeter, *level.internals)
        first = {
            frame: v.model.new_bool_var(f"first {frame}")
            for frame in here
            if frame in v.up and not any(frame in v.job.later[other] for other in here)
        }
        if first:
            v.model.add_exactly_one(first.values())
        for frame, is_first in first.items():
            for other in here:
                if other != frame:
                    v.model.add_implication(is_first, v.before(frame, other))
        for frame in here:
            if frame not in v.up:
                continue
            joins = [v.before(other, frame) for other in house.touches[frame]]
            v.model.add_bool_or([*joins, first.get(frame, v.never)])


def perimeter_first(v: Variables) -> None:
    """Stand no internal frame before the perimeter, but for the frames that may be held open."""
    choices = v.job.scenario.stand
    if choices.internals_any_time:
        return
    for level in v.job.house.levels:
        if any(internal in v.up for internal in level.internals):
            _hold_open(v, level, choices.hold_open)


def _hold_open(v: Variables, level: LevelHouse, most: int) -> None:
    """Stand all but `most` perimeter frames, none of them of the reference wall, before any internal."""
    first_internal = v.model.new_int_var(0, v.job.moves, f"first internal of level {level.level}")
    for internal in level.internals:
        if internal in v.up:
            v.model.add(first_internal <= v.up[internal])
    held = [v.always for frame in level.perimeter if frame in v.job.left_out]
    for frame in level.perimeter:
        if frame not in v.up:
            continue
        open_still = v.never if frame in level.reference else v.model.new_bool_var(f"held open {frame}")
        v.model.add(v.up[frame] < first_internal).only_enforce_if(~open_still)
        held.append(open_still)
    v.model.add(total(held) <= most)


def way_in(v: Variables) -> None:
    """Leave each carried frame a way in, as far as it is known what would shut it out."""
    for known in v.job.shut_out:
        leave_way(v, known)


def leave_way(v: Variables, known: ShutOut) -> None:
    """Have one of the frames that shut another out stood after it, or this one waiting on a spot."""
    later = [v.before(known.frame, other) for other in sorted(known.by)]
    v.model.add_bool_or([*later, v.aside[known.frame] if known.unless_aside else v.never])


def level_order(v: Variables) -> None:
    """Stand every frame of a level before any of the level above is stood or set aside."""
    for below, above in pairwise(v.job.house.levels):
        for lower in (*below.perimeter, *below.internals):
            for upper in (*above.perimeter, *above.internals):
                if lower in v.up and upper in v.up:
                    v.model.add(v.up[lower] < v.off[upper])
