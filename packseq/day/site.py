"""The site as a plan from here needs it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from packseq.day.beginning import begin_from
from packseq.day.follow import Followed, follow
from packseq.day.journal import Noted
from packseq.day.leftout import LeftOut, left_out
from packseq.day.names import Names
from packseq.day.present import Present, present_state
from packseq.house.model import House
from packseq.plan.begin import Begin
from packseq.plan.model import Plan


@dataclass(frozen=True)
class Site:
    """Where the job is, and from where a plan goes on.

    Parameters
    ----------
    house
        The house as delivered, to be stood by the choices that hold from here on.
    now
        The site as it is.
    left
        What a plan from here leaves out.
    begin
        Where such a plan begins.
    old
        The plan worked by so far, where there is one.
    followed
        How far that was carried out.
    """

    house: House
    now: Present
    left: LeftOut
    begin: Begin
    old: Plan | None
    followed: Followed | None


def site_of(house: House, names: Names, old: Plan | None, lines: Sequence[Noted]) -> Site:
    """Return the site after every line of a journal."""
    now = present_state(house, names, old, lines)
    left = left_out(now, None if old is None else old.direction)
    followed = None if old is None else follow(old, lines)
    return Site(house, now, left, begin_from(now, left.frames, lines), old, followed)
