"""How far the lifting team has walked so far."""

from __future__ import annotations

from packseq.day.present import Present
from packseq.routes.engine import build_routes
from packseq.routes.values import Stop


def walked_so_far_mm(now: Present) -> int:
    """Return the length of the team's way through every lift so far, in mm.

    It is measured as a plan's is: the team walks as one, by the shortest way, empty-handed from one
    lift to the next. A lift from nobody knows where, and a leg that no way leads, count nothing.
    """
    scenario = now.house.scenario
    stops = {stop: None for lift in now.carried for stop in (lift.start, lift.end) if stop is not None}
    routes = build_routes(scenario, stops)
    walked_mm = 0
    team_at: Stop | None = None
    for lift in now.carried:
        if lift.start is not None:
            loaded = routes.leg(lift.start, lift.end, scenario.frames[lift.frame], lift.standing)
            empty = None if team_at is None else routes.leg(team_at, lift.start, None, lift.standing)
            walked_mm += sum(leg.mm for leg in (empty, loaded) if leg is not None)
        team_at = lift.end
    return walked_mm
