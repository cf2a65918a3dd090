"""The way round the building: the external frames of a level in order."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from shapely import LinearRing, MultiLineString
from shapely import Point as Spot

from packseq.house.links import Links, among, one_ring
from packseq.house.location import exposure
from packseq.house.runs import Pair, split_into_runs
from packseq.house.shapes import Leg, polygon
from packseq.scenario.model import Frame

_FEWEST = 3
"""Frames that it takes to go round anything."""

_SAME_X_MM = 1.0
"""A site wall whose ends are this close in x runs north."""


class Perimeter(NamedTuple):
    """The external frames anticlockwise, each passed from its start to its end.

    `closed` is False for a site wall, one straight run that encloses nothing.
    """

    legs: tuple[Leg, ...]
    closed: bool

    @property
    def names(self) -> tuple[str, ...]:
        """The frames' names in order."""
        return tuple(leg.frame.name for leg in self.legs)


def find_perimeter(
    externals: Mapping[str, Frame], links: Links, inline: Collection[Pair], boundary: MultiLineString
) -> Perimeter | None:
    """Return the way round a level, anticlockwise with y upward, or None when there is none.

    Parameters
    ----------
    externals
        The level's external frames by name; at least one.
    links
        Which frames touch, declared gaps included.
    inline
        Pairs of frames joined end to end.
    boundary
        Outer boundary of the level, anticlockwise.

    Notes
    -----
    Where each external frame touches just two others and all are one ring, that ring is
    the perimeter. Else the frames may stand in one straight run, a site wall. Else (a
    frame so short that the frames either side of it touch too) they are taken in the
    order in which they lie along the outer boundary, if each touches the next.
    """
    touching = among(links, externals)
    order = one_ring(touching)
    if order is not None:
        legs = _passed([externals[name] for name in order])
        anticlockwise = LinearRing([point for leg in legs for point in (leg.start, leg.end)]).is_ccw
        return Perimeter(legs if anticlockwise else tuple(leg.turned for leg in legs[::-1]), closed=True)
    wall = _site_wall(list(externals.values()), inline)
    if wall is not None:
        return Perimeter(wall, closed=False)
    order = _along(externals, boundary)
    if len(order) < len(externals) or len(order) < _FEWEST:
        return None
    if not all(after in touching[name] for name, after in zip(order, [*order[1:], order[0]], strict=True)):
        return None
    return Perimeter(_passed([externals[name] for name in order]), closed=True)


def _site_wall(frames: Sequence[Frame], inline: Collection[Pair]) -> tuple[Leg, ...] | None:
    """Return frames that all stand in one straight run, toward larger x (larger y if x is equal), or None."""
    legs = sorted((_onward(frame) for frame in frames), key=lambda leg: (leg.start, leg.frame.name))
    if abs(legs[-1].end[0] - legs[0].start[0]) < _SAME_X_MM:
        legs.sort(key=lambda leg: leg.start[1])
    runs = split_into_runs(legs, inline, closed=False)
    return runs[0] if len(runs) == 1 else None


def _onward(frame: Frame) -> Leg:
    """Return a frame passed toward larger x, or larger y if x is equal."""
    leg = Leg(frame, frame.start, frame.end)
    (x1, y1), (x2, y2) = leg.start, leg.end
    onward = y2 > y1 if abs(x2 - x1) < _SAME_X_MM else x2 > x1
    return leg if onward else leg.turned


def _along(externals: Mapping[str, Frame], boundary: MultiLineString) -> list[str]:
    """Return the frames that show on the outer boundary, in the order in which they do.

    Nothing is returned when the boundary is in more than one piece.
    """
    if len(boundary.geoms) > 1:
        return []
    ring = boundary.geoms[0]
    shown = [(name, exposure(frame, boundary)) for name, frame in sorted(externals.items())]
    places = [(ring.project(Spot(part.at)), name) for name, part in shown if part is not None]
    return [name for _, name in sorted(places)]


def _passed(ring: Sequence[Frame]) -> tuple[Leg, ...]:
    """Return the frames of a ring, each passed from the frame before it toward the one after it."""
    legs = []
    for frame, before, after in zip(ring, [ring[-1], *ring], [*ring[1:], ring[0]], strict=False):
        start, end = Spot(frame.start), Spot(frame.end)
        come, go = polygon(before), polygon(after)
        leg = Leg(frame, frame.start, frame.end)
        onward = start.distance(come) + end.distance(go) <= end.distance(come) + start.distance(go)
        legs.append(leg if onward else leg.turned)
    return tuple(legs)
