"""From the site as it is to a checked plan: what is left of the old one, or its order put right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.baseline.crew import Scene, unplanned
from packseq.check import replay
from packseq.day.leftout import LeftOut
from packseq.day.replanned import Replanned, Rest, best_of, with_stages
from packseq.day.site import Site
from packseq.errors import Conflict, LimitError, NoPlanError
from packseq.plan.begin import as_begun
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Move
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import spot_stop


def go_on(site: Site) -> Replanned:
    """Return the best checked plan from here.

    Raises
    ------
    NoPlanError
        When nothing can be stood of what is there, with why.
    LimitError
        When no plan was found.
    """
    waiting = len(site.house.scenario.frames) - len(site.now.state.stood)
    if waiting == len(site.left.frames):
        raise NoPlanError(_nothing_to_stand(site.left))
    begun = as_begun(site.house, site.begin)
    routes = build_routes(begun.scenario, [spot_stop(spot) for spot in site.now.spots.values()])
    rest = _rest(site, routes)
    crews = _crews(site, routes)
    plans = [crew.plan for crew in crews if crew.plan is not None]
    best = best_of(site.house, plans if rest is None else [rest.done.plan, *plans], routes)
    if best is None:
        reasons = dict.fromkeys(crew.reason for crew in crews if crew.reason is not None)
        raise LimitError("no plan was found from here", *reasons)
    done = replay(site.house, with_stages(best.plan, best), routes)
    return Replanned(site.now, site.left, done, rest)


def _nothing_to_stand(left: LeftOut) -> Iterator[Conflict]:
    for absent in left.absent:
        yield Conflict(("cannot be stood",), f"{absent.frame}: {absent.why}")
    told: set[tuple[str, ...]] = set()
    for conflict in left.held_back.values():
        if conflict.rules not in told:
            yield Conflict(conflict.rules, f"nothing else may be stood until then, such as: {conflict.text}")
        told.add(conflict.rules)


def _rest(site: Site, routes: Routes) -> Rest | None:
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
        routes=routes,
        begin=site.begin,
        direction=site.left.direction,
    )
    return Rest(site.followed, replay(site.house, plan, routes))


def _still_to_do(site: Site, move: Move) -> bool:
    heap = site.now.state.lies.get(move.frame)
    if heap is None or (move.do == "stand" and move.frame in site.begin.left_out):
        return False
    was_moved = heap.kind != "pack" or site.now.state.layer_number(move.frame) is None
    return move.do == "stand" or not was_moved or move.origin.layer is None


def _crews(site: Site, routes: Routes) -> list[Unplanned]:
    """Return what crews come to that look no further than the next frame: with the old order, and without."""
    now = site.now
    crews = []
    if site.old is not None:
        order = [move.frame for move in site.old.moves if move.do == "stand"]
        crews.append(_put_right(site, order, routes))
    crews.extend(
        crew(site.house, spots=now.spots, places=now.places, routes=routes, begin=site.begin)
        for crew in (by_nearest, by_frame_list)
    )
    return crews


def _put_right(site: Site, order: Sequence[str], routes: Routes) -> Unplanned:
    """Return what comes of keeping to an order of stands wherever that can be done, unpacking as needed."""
    rank = {name: place for place, name in enumerate(order)}

    def as_ordered(_scene: Scene, waiting: Sequence[str]) -> Sequence[str]:
        return sorted(waiting, key=lambda name: rank.get(name, len(rank)))

    now = site.now
    return unplanned(
        site.house, as_ordered, spots=now.spots, places=now.places, routes=routes, begin=site.begin
    )
