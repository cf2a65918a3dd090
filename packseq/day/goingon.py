"""From the site as it is to a checked plan: the planner's, from what is left of the old one."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.baseline.crew import Scene, unplanned
from packseq.check import replay
from packseq.day.leftout import LeftOut
from packseq.day.replanned import Replanned
from packseq.day.rest import rest_of
from packseq.day.site import Site
from packseq.errors import Conflict, LimitError, NoPlanError
from packseq.standup.begun import Begun
from packseq.standup.progress import Listener
from packseq.standup.search import plan_standup


def go_on(
    site: Site,
    *,
    limit_s: float,
    seed: int = 0,
    listener: Listener | None = None,
    stop: threading.Event | None = None,
) -> Replanned:
    """Return the best checked plan from here.

    It is no worse than what is left of the old plan, nor than what a crew does that keeps to the old
    order, or that looks no further than the next frame.

    Parameters
    ----------
    site
        Where the job is.
    limit_s, seed, listener, stop
        As `plan_standup` takes them.

    Raises
    ------
    NoPlanError
        When nothing can be stood of what is there, or no plan keeps the rules, with why.
    LimitError
        When no plan was found.
    """
    waiting = len(site.house.scenario.frames) - len(site.now.state.stood)
    if waiting == len(site.left.frames):
        raise NoPlanError(_nothing_to_stand(site.left))
    rest = rest_of(site)
    crews = _crews(site)
    plans = [crew.plan for crew in crews if crew.plan is not None]
    known = tuple(
        plan
        for plan in (plans if rest is None else [rest.done.plan, *plans])
        if replay(site.house, plan, site.routes).kept
    )
    begun = Begun(site.begin, site.now.spots, site.routes, known)
    try:
        plan = plan_standup(site.house, limit_s=limit_s, seed=seed, listener=listener, stop=stop, begun=begun)
    except LimitError as error:
        reasons = dict.fromkeys(crew.reason for crew in crews if crew.reason is not None)
        raise LimitError("no plan was found from here", *reasons) from error
    return Replanned(site.now, site.left, replay(site.house, plan, site.routes), rest)


def _nothing_to_stand(left: LeftOut) -> Iterator[Conflict]:
    for absent in left.absent:
        yield Conflict(("cannot be stood",), f"{absent.frame}: {absent.why}")
    told: set[tuple[str, ...]] = set()
    for conflict in left.held_back.values():
        if conflict.rules not in told:
            yield Conflict(conflict.rules, f"nothing else may be stood until then, such as: {conflict.text}")
        told.add(conflict.rules)


def _crews(site: Site) -> list[Unplanned]:
    """Return what crews come to that look no further than the next frame: with the old order, and without."""
    now = site.now
    crews = []
    if site.old is not None:
        order = [move.frame for move in site.old.moves if move.do == "stand"]
        crews.append(_put_right(site, order))
    crews.extend(
        crew(site.house, spots=now.spots, places=now.places, routes=site.routes, begin=site.begin)
        for crew in (by_nearest, by_frame_list)
    )
    return crews


def _put_right(site: Site, order: Sequence[str]) -> Unplanned:
    """Return what comes of keeping to an order of stands wherever that can be done, unpacking as needed."""
    rank = {name: place for place, name in enumerate(order)}

    def as_ordered(_scene: Scene, waiting: Sequence[str]) -> Sequence[str]:
        return sorted(waiting, key=lambda name: rank.get(name, len(rank)))

    now = site.now
    return unplanned(
        site.house, as_ordered, spots=now.spots, places=now.places, routes=site.routes, begin=site.begin
    )
