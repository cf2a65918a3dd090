"""How far the lifting team walks from one point to another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from packseq.geometry import Point, leg_mm
from packseq.scenario.model import Frame


@dataclass(frozen=True, slots=True)
class Leg:
    """One walk: its length in whole mm and the points it passes, empty where it is straight."""

    mm: int
    route: tuple[Point, ...] = ()


class Legs(Protocol):
    """Whatever can tell the length of a leg at some moment of a plan."""

    def leg(
        self, start: Point, end: Point, carried: Frame | None, standing: frozenset[str], level: int
    ) -> Leg:
        """Return the shortest leg between two points.

        Parameters
        ----------
        start, end
            Where the team comes from and goes to, in mm.
        carried
            The frame in its hands, or None.
        standing
            Names of all frames that stand at that moment.
        level
            The level walked on: that of the frame carried or fetched.
        """


class StraightLegs:
    """Legs that cross whatever stands: straight lines."""

    def leg(
        self,
        start: Point,
        end: Point,
        carried: Frame | None,  # noqa: ARG002 - a straight leg does not ask what is carried
        standing: frozenset[str],  # noqa: ARG002 - nor what stands
        level: int,  # noqa: ARG002
    ) -> Leg:
        """Return the straight leg between two points."""
        return Leg(leg_mm(start, end))
