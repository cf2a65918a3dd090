"""Rules about what may be stood next."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check.job import Lift, listed


def reference_first(lift: Lift) -> Iterator[str]:
    """Stand the reference wall of a level first, from one end of it to the other."""
    if lift.target is not None:
        return
    name = lift.frame.name
    wall = lift.job.laps[lift.frame.level][: len(lift.level.reference)]
    before = wall[: wall.index(name)] if name in wall else wall
    missing = lift.missing(before)
    if missing:
        yield f"{name} is stood before {listed(missing)} of the reference wall"


def lap_order(lift: Lift) -> Iterator[str]:
    """Stand the perimeter on round from the reference wall, as the lap wants it."""
    name, level = lift.frame.name, lift.level
    if lift.target is not None or name not in level.perimeter:
        return
    lap = lift.job.laps[lift.frame.level]
    match lift.job.choices.lap:
        case "one-way":
            # What is missing of the reference wall itself is for reference-first to say.
            before = lap[len(level.reference) : lap.index(name)]
            missing = lift.missing(before)
            if missing:
                yield f"{name} is stood before {listed(missing)}, going {lift.job.direction}"
        case "both-ways":
            standing = [other for other in lap if other in lift.state.standing]
            if standing and not lift.state.standing.intersection(_neighbours(lift)):
                yield f"{name} is stood away from the standing stretch of the perimeter"
        case "free":
            pass


def _neighbours(lift: Lift) -> tuple[str, ...]:
    """Return the frames before and after a frame in its perimeter, round the end if it closes."""
    perimeter = lift.level.perimeter
    place = perimeter.index(lift.frame.name)
    if lift.level.closed:
        return (perimeter[place - 1], perimeter[(place + 1) % len(perimeter)])
    return (*perimeter[max(place - 1, 0) : place], *perimeter[place + 1 : place + 2])


def joined(lift: Lift) -> Iterator[str]:
    """Stand every frame but the first of its level against one that stands."""
    if lift.target is not None:
        return
    frames = lift.job.house.scenario.frames
    first = not any(frames[name].level == lift.frame.level for name in lift.state.stood)
    touching = lift.state.standing.intersection(lift.job.house.touches[lift.frame.name])
    if not first and not touching:
        yield f"{lift.frame.name} touches no standing frame"


def perimeter_first(lift: Lift) -> Iterator[str]:
    """Stand no internal frame before the perimeter, but for the frames that may be held open."""
    choices, level = lift.job.choices, lift.level
    if lift.target is not None or choices.internals_any_time or lift.frame.name not in level.internals:
        return
    name, lap = lift.frame.name, lift.job.laps[lift.frame.level]
    missing = lift.missing(lap)
    if len(missing) > choices.hold_open:
        yield (
            f"{name} is stood while {listed(missing)} of the perimeter are missing; "
            f"at most {choices.hold_open} may be held open"
        )
    kept_shut = [other for other in missing if other in level.reference]
    if kept_shut:
        yield f"{name} is stood while {listed(kept_shut)} of the reference wall are missing"
    if choices.lap == "one-way" and missing != lap[len(lap) - len(missing) :]:
        yield f"{name} is stood while {listed(missing)} are missing, which are not the last of the lap"


def level_order(lift: Lift) -> Iterator[str]:
    """Lift nothing of a level before every frame of the levels below stands: it has no floor yet."""
    below = lift.missing(lift.job.below[lift.frame.level])
    if below:
        done = "stood" if lift.target is None else "set aside"
        yield f"{lift.frame.name} of level {lift.frame.level} is {done} before {listed(below)} below it"
