"""What to know before the first frame goes up: landing, reference wall, held open, free-standing."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check import Replay
from packseq.house.model import House, LevelHouse
from packseq.plan.model import Move
from packseq.report.landed import landed
from packseq.report.schedule import Schedule
from packseq.report.words import counted, names, on_wall

_FREE_STANDING = "brace it as a free-standing frame"


def remarks(done: Replay, schedule: Schedule) -> tuple[str, ...]:
    """Return what to know about a plan before beginning, a sentence or two each."""
    return (
        *_left_out(done),
        *landed(done),
        *_order(done),
        *_held_open(done, schedule),
        *_free_standing(done.job.house, schedule),
    )


def _order(done: Replay) -> Iterator[str]:
    house = done.job.house
    for level in house.levels:
        where = f"Level {level.level}: " if len(house.levels) > 1 else ""
        if set(level.reference) <= set(done.plan.stood_before):
            yield f"{where}The reference wall stands.{_then(done, level)}"
            continue
        wall = house.run_of[level.reference[0]].name
        order = names(name for name in done.plan.reference if name in level.reference)
        yield f"{where}Reference wall first, from end to end: {order} (the {wall}).{_then(done, level)}"


def _left_out(done: Replay) -> Iterator[str]:
    if done.plan.left_out:
        yield f"Left out of this plan: {names(done.plan.left_out)}. Make it again when they can be stood."


def _then(done: Replay, level: LevelHouse) -> str:
    if not level.closed:
        return ""
    match done.job.choices.lap:
        case "one-way":
            return f" Then on round the building {done.job.direction}."
        case "both-ways":
            return " Then round the building from either end of what stands, as listed."
        case "free":
            return " Then in the order listed."


def _held_open(done: Replay, schedule: Schedule) -> Iterator[str]:
    house = done.job.house
    for frame in done.held_open:
        if frame in done.plan.stood_before:
            continue
        number = schedule.numbers[frame]
        level = house.level_of[frame]
        inside = sum(schedule.numbers.get(internal, number) < number for internal in level.internals)
        yield (
            f"Held open: {frame} ({on_wall(house, frame)}) is left out until no. {number}. Until then "
            f"{counted(inside, 'internal frame')} can come in through its place."
        )


def _free_standing(house: House, schedule: Schedule) -> Iterator[str]:
    for turn in schedule.turns:
        alone = stands_alone(house, turn.stand)
        if alone is not None:
            yield f"No. {turn.number}, {turn.stand.frame}, {alone}: {_FREE_STANDING}."


def stands_alone(house: House, stand: Move) -> str | None:
    """Return why a frame touches nothing in truth when it is stood; None where it touches another."""
    touches = stand.touches or ()
    if not touches:
        return "touches no other frame yet"
    joined = {join.frames for join in house.joins}
    if any(tuple(sorted((stand.frame, other))) in joined for other in touches):
        return None
    return f"is stood across a gap from {names(touches)}"
