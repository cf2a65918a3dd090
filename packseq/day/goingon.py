"""What the old plan still offers from here: what is left of it, and its order put right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from packseq.baseline import Unplanned
from packseq.baseline.crew import Scene, unplanned
from packseq.day.follow import Followed
from packseq.day.present import Present
from packseq.plan.begin import Begin
from packseq.plan.build import Step, build_plan
from packseq.plan.model import LapDirection, Move, Plan
from packseq.routes.engine import Routes


def rest_of(now: Present, begin: Begin, followed: Followed, direction: LapDirection, routes: Routes) -> Plan:
    """Return what is left of a plan as a plan from here: nothing is checked.

    Left away are the moves that are done, those of frames that stand or are not there, stands of
    frames left out, and set-asides of frames that were set aside elsewhere.
    """
    steps = [
        Step(
            move.do,
            move.frame,
            to_spot=None if move.to is None else move.to.spot,
            to_pack=None if move.to is None else move.to.pack,
        )
        for move in followed.open
        if _still_to_do(now, begin, move)
    ]
    return build_plan(
        now.house,
        steps,
        spots=now.spots,
        places=now.places,
        routes=routes,
        begin=begin,
        direction=direction,
    )


def _still_to_do(now: Present, begin: Begin, move: Move) -> bool:
    heap = now.state.lies.get(move.frame)
    if heap is None or (move.do == "stand" and move.frame in begin.left_out):
        return False
    moved = heap.kind != "pack" or now.state.layer_number(move.frame) is None
    return move.do == "stand" or not moved or move.origin.layer is None


def put_right(now: Present, begin: Begin, order: Sequence[str], routes: Routes) -> Unplanned:
    """Return what comes of keeping to an order wherever that can be done, unpacking as needed.

    Parameters
    ----------
    now
        The site as it is.
    begin
        Where it begins.
    order
        The frames in the order in which they were to be stood.
    routes
        The routes of the house with the spots and places of the site.
    """
    rank: Mapping[str, int] = {name: place for place, name in enumerate(order)}

    def as_ordered(_scene: Scene, waiting: Sequence[str]) -> Sequence[str]:
        return sorted(waiting, key=lambda name: rank.get(name, len(rank)))

    return unplanned(now.house, as_ordered, spots=now.spots, places=now.places, routes=routes, begin=begin)
