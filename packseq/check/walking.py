"""The legs that the lifting team truly walks."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.check.job import Lift
from packseq.geometry import Point
from packseq.plan.legs import Legs


@dataclass(frozen=True, slots=True)
class Walked:
    """The legs of one move in whole mm, and the people that the frame needs."""

    empty_mm: int
    loaded_mm: int
    people: int

    @property
    def walking_mm(self) -> int:
        """Both legs together."""
        return self.empty_mm + self.loaded_mm


def drop_point(lift: Lift) -> Point:
    """Return where the team puts a frame down: the middle of its line, or the centre of a heap."""
    return lift.frame.middle if lift.target is None else lift.job.centre(lift.target)


def walk(before: Lift | None, lift: Lift, legs: Legs) -> Walked:
    """Return the legs of a lift; the team comes from where `before` ended, if there was one."""
    pick_up = lift.job.centre(lift.source)
    level, standing = lift.frame.level, lift.state.standing
    empty_mm = 0
    if before is not None:
        empty_mm = legs.leg(drop_point(before), pick_up, None, standing, level).mm
    loaded_mm = legs.leg(pick_up, drop_point(lift), lift.frame, standing, level).mm
    return Walked(empty_mm, loaded_mm, lift.job.house.scenario.crew.team(lift.frame.mass_kg))
