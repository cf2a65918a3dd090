"""What each move says, held against what is so."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from packseq.check.job import Job, Lift, listed
from packseq.check.state import Heap, State
from packseq.check.walking import Walked
from packseq.plan.model import Move, Where
from packseq.routes.values import Stop, whole_points


def impossible(job: Job, state: State, move: Move) -> str | None:
    """Return why a move cannot be carried out at all, None when it can."""
    if move.frame not in job.house.scenario.frames:
        return f"no frame is called {move.frame}"
    if move.frame in state.standing:
        return f"{move.frame} stands already"
    if move.frame not in state.lies:
        return f"{move.frame} lies nowhere where the plan begins"
    if move.do == "set aside":
        if move.to is None:
            return f"{move.frame} is set aside, but not where"
        if _target(job, move) is None:
            return f"{move.frame} is set aside on {_named(move.to)}, which this job does not have"
    return None


def lift_of(job: Job, state: State, move: Move, team_at: Stop | None) -> Lift:
    """Return a move that is not `impossible` as the rules see it.

    Raises
    ------
    ValueError
        When the move is impossible.
    """
    source = state.lies.get(move.frame)
    target = _target(job, move)
    if source is None or (move.do == "set aside" and target is None):
        raise ValueError(f"move {move.n} cannot be carried out")
    return Lift(job, state, job.house.scenario.frames[move.frame], source, target, move.people, team_at)


def _target(job: Job, move: Move) -> Heap | None:
    if move.do == "stand" or move.to is None:
        return None
    return job.heap(pack=move.to.pack, spot=move.to.spot)


def _named(where: Where) -> str:
    if where.pack is not None and where.spot is not None:
        return f"both {Where(pack=where.pack)} and {Where(spot=where.spot)}"
    return str(where)


def misnumbered(move: Move, number: int) -> Iterator[str]:
    """Say when a move's number is not its place in the plan."""
    if move.n != number:
        yield f"is numbered {move.n}"


def misstated(lift: Lift, move: Move, walked: Walked) -> Iterator[str]:
    """Say everything that a move states about itself and that is not so."""
    yield from _misstated_fields(lift, move)
    yield from _misstated_source(lift, move)
    if move.people > walked.people:
        yield f"{move.frame} needs {walked.people} people, the plan says {move.people}"
    # Of a leg that has no way nothing can be so: that is for way-in to say.
    walled_in = lift.team_at is not None and walked.empty is None
    if not walled_in and move.empty_mm != walked.empty_mm:
        yield f"the empty leg is {walked.empty_mm} mm, the plan says {move.empty_mm}"
    if walked.loaded is None:
        return
    if move.loaded_mm != walked.loaded_mm:
        yield f"the loaded leg is {walked.loaded_mm} mm, the plan says {move.loaded_mm}"
    if move.route_mm and move.route_mm != whole_points(walked.loaded.points):
        yield from _misstated_route(lift, move, walked)


def _misstated_fields(lift: Lift, move: Move) -> Iterator[str]:
    """Hold a stand and a set aside each to the fields that are theirs."""
    if lift.target is None:
        order = len(lift.state.stood) + 1
        if move.stand != order:
            yield f"{move.frame} is stood as number {order}, the plan says {move.stand or 'none'}"
        if move.to is not None or move.why is not None:
            yield f"{move.frame} is stood, so it has no place to be set aside and no reason"
        true = [near for near in lift.job.house.touches[move.frame] if near in lift.state.standing]
        if move.touches is None or sorted(move.touches) != sorted(true):
            stated = listed(move.touches or ()) or "none"
            yield f"{move.frame} touches {listed(true) or 'none'}, the plan says {stated}"
        return
    if move.stand is not None or move.touches is not None:
        yield f"{move.frame} is set aside, so it has no stand number and touches none"
    if move.to is not None and move.to.layer is not None:
        yield f"{move.frame} goes on top, not in layer {move.to.layer}"


def _misstated_source(lift: Lift, move: Move) -> Iterator[str]:
    if lift.source.kind == "pack":
        true = Where(pack=lift.source.name, layer=lift.state.layer_number(move.frame))
    else:
        true = Where(spot=lift.source.name)
    if move.origin != true:
        yield f"{move.frame} lies in {true}, the plan says {_named(move.origin)}"


def _misstated_route(lift: Lift, move: Move, walked: Walked) -> Iterator[str]:
    """Hold a stated route to its ends, its length and the ground; its points are rounded to whole mm."""
    start, end = lift.pick_up, lift.drop
    if math.dist(move.route_mm[0], start.point) > 1 or math.dist(move.route_mm[-1], end.point) > 1:
        yield "the route does not lead from where the frame lies to where it goes"
    elif not lift.job.routes.walkable(start, end, move.route_mm, lift.frame, lift.state.standing):
        yield f"the route leads across what stands, or ground that nobody crosses, with {move.frame} in hand"
    length = sum(math.dist(start, end) for start, end in pairwise(move.route_mm))
    if abs(length - walked.loaded_mm) > len(move.route_mm):
        yield f"the route is {length:.0f} mm long, the loaded leg {walked.loaded_mm} mm"
