"""Rules about the ground: where the team can walk, and where packs and spots are in the way."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.check.job import Lift, listed
from packseq.routes.values import Stop
from packseq.scenario.model import Frame


def way_in(lift: Lift) -> Iterator[str]:
    """Walk only where there is a way: to the frame with empty hands, and with it to where it goes."""
    job, name = lift.job, lift.frame.name
    if lift.team_at is not None and lift.empty is None:
        way = f"{job.named(lift.team_at)} to {lift.source}"
        yield f"the team has no way from {way}: {_shut(lift, lift.team_at, lift.pick_up, None)}"
    if lift.loaded is None:
        way = f"{lift.source} to {'its line' if lift.target is None else lift.target}"
        yield f"{name} has no way from {way}: {_shut(lift, lift.pick_up, lift.drop, lift.frame)}"


def _shut(lift: Lift, start: Stop, end: Stop, carried: Frame | None) -> str:
    shut = lift.job.routes.closes(start, end, carried, lift.state.standing)
    return f"{listed(sorted(shut), most=12)} shut it off" if shut else "no-go areas shut it off"


def ground_clear(lift: Lift) -> Iterator[str]:
    """Stand nothing where a pack or spot with frames lies; put nothing down across what stands."""
    name = lift.frame.name
    if lift.target is not None:
        across = lift.state.standing.intersection(lift.job.lines_under[lift.target])
        if across:
            stand = "stands" if len(across) == 1 else "stand"
            yield f"{name} is set aside on {lift.target}, where {listed(sorted(across))} {stand}"
        return
    for heap, lines in lift.job.lines_under.items():
        if name in lines:
            left = [other for other in lift.state.lying(heap) if other != name]
            if left:
                yield f"{name} is stood where {heap} still lies, with {listed(left)} in it"
