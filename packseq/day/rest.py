"""What is left of the old plan, as a plan from the site as it is."""

from __future__ import annotations

from packseq.check import replay
from packseq.day.replanned import Rest
from packseq.day.site import Site
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Move


def rest_of(site: Site) -> Rest | None:
    """Return what is left of the old plan as a plan from here, with everything that is wrong with it.

    Left away are the moves that are done, those of frames that stand or are not there, stands of
    frames left out, and set-asides of frames that were set aside elsewhere.
    """
    if site.followed is None:
        return None
    steps = [
        Step(
            move.do,
            move.frame,
            to_spot=None if move.to is None else move.to.spot,
            to_pack=None if move.to is None else move.to.pack,
        )
        for move in site.followed.open
        if _still_to_do(site, move)
    ]
    plan = build_plan(
        site.house,
        steps,
        spots=site.now.spots,
        places=site.now.places,
        routes=site.routes,
        begin=site.begin,
        direction=site.left.direction,
    )
    return Rest(site.followed, replay(site.house, plan, site.routes))


def _still_to_do(site: Site, move: Move) -> bool:
    heap = site.now.state.lies.get(move.frame)
    if heap is None or (move.do == "stand" and move.frame in site.begin.left_out):
        return False
    was_moved = heap.kind != "pack" or site.now.state.layer_number(move.frame) is None
    return move.do == "stand" or not was_moved or move.origin.layer is None
