"""The bound on walking from its parts, against the best of all plans and a sum by hand."""

from __future__ import annotations

import math

from drawn_houses import houses
from hypothesis import HealthCheck, assume, given, settings
from oracle import Oracle
from standup_jobs import told
from tight_houses import tight_houses
from walled_houses import walled_houses

from packseq.house.model import House
from packseq.routes.engine import build_routes
from packseq.standup.jobs import all_jobs
from packseq.standup.transport import least_by_transport, places_are_known

quick = settings(
    max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)


def hold_against_the_oracle(house: House) -> None:
    """Hold the bound to the best plan in a direction, and to what is carried at least."""
    house = told(house, "anticlockwise")
    assume(places_are_known(house))
    best = Oracle(house).best()
    assume(best is not None)
    assert best is not None
    lifts, walking = best.cost[:2]
    routes = build_routes(house.scenario)
    least = [least_by_transport(job, routes, lifts) for job in all_jobs(house)]
    assert min(least) <= walking
    # Each frame is carried straight at least, less what is let off for rounding.
    frames, packs = house.scenario.frames, house.scenario.packs
    for job, bound in zip(all_jobs(house), least, strict=True):
        straight = (
            math.dist(job.places[pack].at, frames[name].middle)
            for pack in packs
            for name in packs[pack].frames
        )
        assert bound >= sum(straight) - 5 * (len(frames) + lifts)


@quick
@given(houses(tops=True))
def test_no_plan_of_a_house_walks_less(house: House) -> None:
    hold_against_the_oracle(house)


@quick
@given(walled_houses())
def test_no_plan_between_solid_walls_walks_less(house: House) -> None:
    hold_against_the_oracle(house)


@quick
@given(tight_houses())
def test_no_plan_of_a_tight_site_walks_less(house: House) -> None:
    hold_against_the_oracle(house)
