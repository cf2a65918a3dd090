"""From the walls of a level to its lines, in the order of marking."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from packseq.geometry import Point
from packseq.house.model import House, LevelHouse
from packseq.sitework.setout.floor import Floor
from packseq.sitework.setout.marking import marked_lines
from packseq.sitework.setout.marks import Mark, band, marks_for
from packseq.sitework.setout.model import Choices, GridLine, Lie, Role, Served, SetOut, Triangle
from packseq.sitework.setout.rectangles import main_rectangle, proving_rectangles
from packseq.sitework.setout.triangle import largest_triangle
from packseq.sitework.walls import Wall, walls_of

_ONE_WAY = math.sin(math.radians(0.1))
"""Walls within 0.1 degree have one direction, as the frames of a run do (docs/house.md)."""

_ROLES: tuple[Role, ...] = ("reference", "square", "closing", "external", "internal")
_LIES: tuple[Lie, ...] = ("across", "along", "skew")


@dataclass(frozen=True, slots=True)
class _Axes:
    """A point and the unit vectors along a family of parallel lines and across it."""

    origin: Point
    along: Point
    across: Point

    def put(self, along_mm: float, across_mm: float) -> Point:
        """Return a point from its two distances."""
        return (
            self.origin[0] + along_mm * self.along[0] + across_mm * self.across[0],
            self.origin[1] + along_mm * self.along[1] + across_mm * self.across[1],
        )

    def along_mm(self, point: Point) -> float:
        """Return how far along a point lies."""
        return _dot((point[0] - self.origin[0], point[1] - self.origin[1]), self.along)


@dataclass(frozen=True, slots=True)
class _Draft:
    """A line before it has a number."""

    lie: Lie
    axes: _Axes
    mark: Mark
    role: Role

    def span(self, *points: Point) -> tuple[float, float]:
        """Return from where to where the line is snapped: past its walls, and past these points."""
        ends = [point for wall in self.mark.walls for point in (wall.start, wall.end)]
        places = [self.axes.along_mm(point) for point in (*ends, *points)]
        return min(places), max(places)


def set_out(house: House, level: LevelHouse, choices: Choices) -> SetOut:
    """Return the lines to mark for one level, in order, and how to check them.

    The order: the reference line; the two square to it and the closing one that make the largest rectangle
    whose corners are on the floor; the lines of the other external walls; then the internal
    ones. In each group those across the reference wall come before those along it, by running dimension,
    but that a line waits until lines that it can be marked on are there.

    Parameters
    ----------
    house
        The house.
    level
        The level to set out.
    choices
        How far lines lie from faces, how far a wall may lie from the line that it shares.
    """
    walls = walls_of(house, level.level)
    floor = Floor(house, level.level)
    reference = next(wall for wall in walls if level.reference[0] in wall.frames)
    axes = _axes(reference, clockwise=house.scenario.stand.direction == "clockwise")
    drafts = list(_drafts(walls, axes, reference, choices))
    along = next(draft for draft in drafts if draft.role == "reference")
    main = main_rectangle(
        along.mark.at_mm,
        [each.mark.at_mm for each in drafts if each.lie == "along" and each.role == "external"],
        [each.mark.at_mm for each in drafts if each.lie == "across" and each.role == "external"],
        lambda u, v: floor.holds(axes.put(u, v)),
    )
    corners: tuple[Point, ...] = ()
    zero = axes.put(0.0, along.mark.at_mm)
    if main is not None:
        closing, across = main
        drafts = [_promoted(draft, closing, across) for draft in drafts]
        corners = tuple(axes.put(u, v) for u in across for v in (along.mark.at_mm, closing))
        zero = axes.put(across[0], along.mark.at_mm)
    from_zero = _Axes(zero, axes.along, axes.across)
    drafts.sort(key=lambda draft: (_ROLES.index(draft.role), _LIES.index(draft.lie), draft.mark.at_mm))
    lines = marked_lines([_line(draft, from_zero, corners) for draft in drafts], floor)
    return SetOut(
        level=level.level,
        choices=choices,
        zero=zero,
        forward=axes.along,
        inward=axes.across,
        lines=lines,
        rectangles=tuple(proving_rectangles(lines, lambda u, v: floor.holds(from_zero.put(u, v)))),
        triangles=tuple(_triangles(lines, from_zero, floor)),
    )


def _axes(reference: Wall, *, clockwise: bool) -> _Axes:
    """Return the reference wall's axes: from the end that it is stood from, and into the house."""
    if clockwise:
        x, y = reference.along
        return _Axes(reference.end, (-x, -y), reference.left)
    return _Axes(reference.start, reference.along, reference.left)


def _drafts(walls: Sequence[Wall], axes: _Axes, reference: Wall, choices: Choices) -> Iterator[_Draft]:
    """Yield the lines of every family of parallel walls, roles not told apart beyond the reference."""
    for family in _families(walls, reference):
        lie = _lie(family[0], axes)
        along, across = {
            "along": (axes.along, axes.across),
            "across": (axes.across, axes.along),
            "skew": (family[0].along, family[0].left),
        }[lie]
        own = _Axes(axes.origin, along, across)
        for mark in marks_for([band(wall, own.origin, across) for wall in family], choices):
            role: Role = "internal"
            if reference in mark.walls:
                role = "reference"
            elif any(wall.location == "external" for wall in mark.walls):
                role = "external"
            yield _Draft(lie, own, mark, role)


def _families(walls: Iterable[Wall], reference: Wall) -> tuple[tuple[Wall, ...], ...]:
    """Return the walls by direction, those parallel to the reference wall first."""
    families: list[list[Wall]] = [[reference]]
    for wall in walls:
        if wall is not reference:
            fitting = (family for family in families if abs(_turn(family[0].along, wall.along)) < _ONE_WAY)
            family = next(fitting, None)
            if family is None:
                families.append([wall])
            else:
                family.append(wall)
    return tuple(map(tuple, families))


def _lie(wall: Wall, axes: _Axes) -> Lie:
    if abs(_turn(wall.along, axes.along)) < _ONE_WAY:
        return "along"
    return "across" if abs(_turn(wall.along, axes.across)) < _ONE_WAY else "skew"


def _promoted(draft: _Draft, closing_mm: float, across_mm: tuple[float, float]) -> _Draft:
    """Return a line with its role in the main rectangle, if it is part of it."""
    role = draft.role
    if role == "external" and draft.lie == "along" and draft.mark.at_mm == closing_mm:
        role = "closing"
    elif role == "external" and draft.lie == "across" and draft.mark.at_mm in across_mm:
        role = "square"
    return _Draft(draft.lie, draft.axes, draft.mark, role)


def _line(draft: _Draft, from_zero: _Axes, corners: tuple[Point, ...]) -> GridLine:
    """Return a line; it has its number from the order of marking."""
    first, last = draft.span(*(corners if draft.role in {"reference", "square", "closing"} else ()))
    start, end = (draft.axes.put(place, draft.mark.at_mm) for place in (first, last))
    across = {"along": from_zero.across, "across": from_zero.along}.get(draft.lie)
    origin = from_zero.origin
    running = None if across is None else _dot((start[0] - origin[0], start[1] - origin[1]), across)
    return GridLine(
        number=0,
        role=draft.role,
        lie=draft.lie,
        running_mm=running,
        start=start,
        end=end,
        serves=tuple(_served(wall, draft) for wall in draft.mark.walls),
    )


def _served(wall: Wall, draft: _Draft) -> Served:
    return Served(wall, band(wall, draft.axes.origin, draft.axes.across).off_mm(draft.mark.at_mm))


def _triangles(lines: Sequence[GridLine], from_zero: _Axes, floor: Floor) -> Iterator[Triangle]:
    """Yield the largest triangle at each end of the reference line, where a square line crosses it."""
    back = (-from_zero.along[0], -from_zero.along[1])
    squares = [line for line in lines if line.role == "square"]
    for square, heading in zip(squares, (from_zero.along, back), strict=False):
        found = largest_triangle(lines[0], square, (heading, from_zero.across), floor)
        if found is not None:
            yield found


def _turn(first: Point, second: Point) -> float:
    """Return the sine of the angle between two unit vectors."""
    return first[0] * second[1] - first[1] * second[0]


def _dot(first: Point, second: Point) -> float:
    return first[0] * second[0] + first[1] * second[1]
