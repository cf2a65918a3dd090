"""The site as a plan from here needs it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packseq.day.beginning import begin_from
from packseq.day.follow import Followed, follow
from packseq.day.journal import Noted
from packseq.day.leftout import LeftOut, left_out
from packseq.day.present import Present
from packseq.day.walked import stops_so_far
from packseq.house.model import House
from packseq.plan.begin import Begin, as_begun
from packseq.plan.model import Plan
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import pack_stop, scenario_stops, spot_stop


@dataclass(frozen=True)
class Site:
    """Where the job is, and from where a plan goes on.

    Parameters
    ----------
    now
        The site as it is; its house is stood by the choices that hold from here on.
    left
        What a plan from here leaves out.
    begin
        Where such a plan begins.
    old
        The plan worked by so far, where there is one.
    followed
        How far that was carried out.
    routes
        The ways of the house, as `routes_of` builds them.
    """

    now: Present
    left: LeftOut
    begin: Begin
    old: Plan | None
    followed: Followed | None
    routes: Routes

    @property
    def house(self) -> House:
        """The house as delivered."""
        return self.now.house


def site_of(now: Present, old: Plan | None, lines: Sequence[Noted], routes: Routes | None = None) -> Site:
    """Return the site as a plan from here needs it.

    Parameters
    ----------
    now
        The site after every line of the journal.
    old
        The plan worked by so far, where there is one.
    lines
        The sound lines of the journal.
    routes
        The ways of the house, as `routes_of` builds them; built here unless given.
    """
    left = left_out(now, None if old is None else old.direction)
    followed = None if old is None else follow(old, lines)
    begin = begin_from(now, left.frames, lines)
    return Site(now, left, begin, old, followed, routes or routes_of(now, old))


def routes_of(now: Present, old: Plan | None) -> Routes:
    """Return the routes of a house for whatever the day has to do with.

    They know packs and spots as they lie now and as the old plan has them, and both ends of every
    lift so far: so they serve the old plan's check, what is left of it, and every plan from here. How
    the building is lapped makes no difference to them.
    """
    scenario = now.house.scenario
    as_planned = () if old is None else scenario_stops(as_begun(now.house, old.begins).scenario)
    stops = (
        *(pack_stop(scenario.packs[name], place) for name, place in now.places.items()),
        *(spot_stop(spot) for spot in now.spots.values()),
        *stops_so_far(now),
        *as_planned,
    )
    return build_routes(scenario, stops)
