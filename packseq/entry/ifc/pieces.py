"""Cutting walls: where they lie in one another, and where they are too long to be one frame."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from shapely import Point as ShapelyPoint
from shapely import Polygon

from packseq.entry.ifc.walls import ModelWall
from packseq.geometry import Point, strip
from packseq.scenario import limits

BESIDE_OPENING_MM = 90.0
"""Room for two 45 mm studs between an opening and a cut; common practice, no source."""

_LEAST_PIECE_MM = 600.0
"""Shorter pieces are avoided: a cut near an end gives a frame that hardly stands; no source."""

_GRID_MM = 50.0
LEAST_SINE = 0.17
"""Sine of about ten degrees: walls that meet at less lie along one another."""

_PLACES = 1


def clear_of(first: ModelWall, second: ModelWall, gap_mm: float = 0.0) -> bool:
    """Tell at a glance that two walls stand further apart than that: the rectangles round them do."""
    reach_mm = gap_mm + (first.thickness_mm + second.thickness_mm) / 2
    for axis in (0, 1):
        one = sorted((first.start[axis], first.end[axis]))
        other = sorted((second.start[axis], second.end[axis]))
        if one[0] - other[1] > reach_mm or other[0] - one[1] > reach_mm:
            return True
    return False


def piece(wall: ModelWall, from_mm: float, to_mm: float) -> ModelWall:
    """Return a stretch of a wall, with the openings that lie in it; one that is cut through is cut."""
    along = _along(wall)
    openings = []
    for opening in wall.openings:
        begins = max(opening.from_mm, from_mm)
        width_mm = min(opening.from_mm + opening.width_mm, to_mm) - begins
        if width_mm >= limits.LEAST_OPENING_MM:
            openings.append(
                replace(opening, from_mm=round(begins - from_mm, _PLACES), width_mm=round(width_mm, _PLACES))
            )
    return replace(
        wall,
        start=_at(wall.start, along, from_mm),
        end=_at(wall.start, along, to_mm),
        openings=tuple(openings),
    )


def split(wall: ModelWall, joins: Iterable[tuple[float, float]], most_mm: float) -> tuple[ModelWall, ...]:
    """Return a wall as the fewest frames at most so long, cut at joins where that costs no frame more.

    Parameters
    ----------
    wall
        The wall; a framed panel is never cut.
    joins
        Where other walls stand against it: the place along it in mm, and how much of it they cover.
    most_mm
        The longest that a frame may be. Where an opening leaves no other way it is longer.
    """
    if wall.length_mm <= most_mm or wall.framed:
        return (wall,)
    known = tuple(joins)
    free = [place for place in _grid(wall.length_mm) if _clear(place, wall, known)]
    at_joins = {round(place, _PLACES) for place, _ in known if _clear(place, wall, ())}
    places = sorted({0.0, wall.length_mm, *free, *at_joins})
    cuts = _fewest(places, at_joins, most_mm)
    return tuple(piece(wall, begin, end) for begin, end in pairwise(cuts))


def standing_against(
    wall: ModelWall, others: Iterable[ModelWall], gap_mm: float
) -> tuple[tuple[float, float], ...]:
    """Return where other walls stand against the side of one: the place along it, and how much they cover."""
    along = _along(wall)
    own = Polygon(strip(wall.start, wall.end, wall.thickness_mm))
    found = []
    for other in others:
        onward = _along(other)
        sine = abs(along[0] * onward[1] - along[1] * onward[0])
        if sine < LEAST_SINE or clear_of(wall, other, gap_mm):
            continue
        if own.distance(Polygon(strip(other.start, other.end, other.thickness_mm))) > gap_mm:
            continue
        nearest = min((other.start, other.end), key=lambda point: own.distance(ShapelyPoint(point)))
        place = sum(
            (there - here) * step for there, here, step in zip(nearest, wall.start, along, strict=True)
        )
        found.append((round(place, _PLACES), other.thickness_mm / sine))
    return tuple(sorted(found))


def _along(wall: ModelWall) -> Point:
    return (
        (wall.end[0] - wall.start[0]) / wall.length_mm,
        (wall.end[1] - wall.start[1]) / wall.length_mm,
    )


def _grid(length_mm: float) -> list[float]:
    """Return the places along a wall where it may be cut: whole multiples, and its even parts."""
    steps = {step * _GRID_MM for step in range(1, math.ceil(length_mm / _GRID_MM))}
    evenly = {round(length_mm * part / parts, _PLACES) for parts in range(2, 8) for part in range(1, parts)}
    return sorted(steps | evenly)


def _clear(place: float, wall: ModelWall, joins: Sequence[tuple[float, float]]) -> bool:
    """Tell whether a cut lies clear of ends, openings and walls that stand there."""
    if not _LEAST_PIECE_MM <= place <= wall.length_mm - _LEAST_PIECE_MM:
        return False
    for opening in wall.openings:
        ends = opening.from_mm + opening.width_mm
        if opening.from_mm - BESIDE_OPENING_MM < place < ends + BESIDE_OPENING_MM:
            return False
    return all(abs(place - at) > width / 2 for at, width in joins)


def _fewest(places: Sequence[float], at_joins: set[float], most_mm: float) -> list[float]:
    """Return the cuts, ends included: least over-length, fewest pieces, fewest cuts off joins, most even.

    The cheapest path over the places in order.
    """
    reach_mm = max(most_mm, *(after - before for before, after in pairwise(places)))
    costs: list[tuple[float, int, int, float]] = [(0.0, 0, 0, 0.0)]
    came_from = [0]
    for here, place in enumerate(places[1:], start=1):
        off_join = place not in at_joins and place != places[-1]
        found = []
        for before in range(here - 1, -1, -1):
            length_mm = place - places[before]
            if length_mm > reach_mm:
                break
            over_mm, count, off_joins, squares = costs[before]
            over_mm += max(0.0, length_mm - most_mm)
            found.append(((over_mm, count + 1, off_joins + off_join, squares + length_mm**2), before))
        cost, before = min(found)
        costs.append(cost)
        came_from.append(before)
    cuts = [len(places) - 1]
    while cuts[-1]:
        cuts.append(came_from[cuts[-1]])
    return [places[cut] for cut in reversed(cuts)]


def _at(start: Point, along: Point, distance_mm: float) -> Point:
    return (
        round(start[0] + along[0] * distance_mm, _PLACES),
        round(start[1] + along[1] * distance_mm, _PLACES),
    )
