"""Elements of a model measured in mm: where they lie, along their axis, across it and up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from ifcopenshell import entity_instance
from ifcopenshell.util.placement import get_local_placement

from packseq.entry.ifc.parts import parts_of
from packseq.entry.ifc.solids import Matrix, Points, ShapeError, Solid, body, curve_points
from packseq.geometry import Point

PLACES = 1
"""Decimals of a mm that are kept: models are drawn, not measured."""

_STRAIGHT_MM = 1.0
_FARTHEST_MM = 1e11
"""More than twice round the earth: no map coordinate is larger."""


@dataclass(frozen=True, slots=True)
class Scale:
    """How many mm a length of the model is, and how many kg a mass."""

    mm: float
    kg: float


@dataclass(frozen=True, slots=True)
class Box:
    """A body measured along its wall (`u`), across it (`v`) and up (`z`), from an origin on the plan."""

    origin: Point
    along: Point
    u: tuple[float, float]
    v: tuple[float, float]
    z: tuple[float, float]

    def at(self, u: float, v: float) -> Point:
        """Return a place on the plan."""
        x = self.origin[0] + u * self.along[0] - v * self.along[1]
        y = self.origin[1] + u * self.along[1] + v * self.along[0]
        return (round(x, PLACES), round(y, PLACES))


def world(element: entity_instance) -> Matrix:
    """Return the placement of an element in the model's own coordinates."""
    if element.ObjectPlacement is None:
        raise ShapeError("it has no place in the model")
    return np.array(get_local_placement(element.ObjectPlacement), dtype=float)


def whole(element: entity_instance, scale: Scale) -> Solid:
    """Return the body of an element in mm, or of all its parts where it has none of its own."""
    bodies = list(_bodies((element,), scale)) or list(_bodies(parts_of(element), scale))
    if not bodies:
        raise ShapeError("it has no body")
    faces = tuple(face for solid in bodies for face in solid.faces)
    taken = Solid(faces, partly_cut=any(solid.partly_cut for solid in bodies))
    # Written so that what is no number is refused too.
    if not np.all(np.abs(taken.points) < _FARTHEST_MM):
        raise ShapeError("its coordinates are absurd")
    return taken


def _bodies(elements: Iterable[entity_instance], scale: Scale) -> Iterator[Solid]:
    for element in elements:
        own = body(element)
        if own is not None:
            yield own.moved(_in_mm(world(element), scale))


def _in_mm(matrix: Matrix, scale: Scale) -> Matrix:
    scaled = matrix.copy()
    scaled[:3, :] *= scale.mm
    return scaled


def axis_of(element: entity_instance, scale: Scale) -> tuple[Point, Point] | None:
    """Return the two ends of a wall's axis on the plan in mm, or None where it has none."""
    shapes = element.Representation.Representations if element.Representation is not None else ()
    axis = next((shape for shape in shapes if shape.RepresentationIdentifier == "Axis"), None)
    if axis is None or not axis.Items:
        return None
    local = np.concatenate([curve_points(item) for item in axis.Items])
    flat = np.zeros((len(local), 3))
    flat[:, : local.shape[1]] = local
    matrix = _in_mm(world(element), scale)
    on_plan = (flat @ matrix[:3, :3].T + matrix[:3, 3])[:, :2]
    first, last = on_plan[0], on_plan[-1]
    length_mm = float(np.linalg.norm(last - first))
    if length_mm < _STRAIGHT_MM:
        raise ShapeError("its axis comes back to where it begins")
    across = np.array([first[1] - last[1], last[0] - first[0]]) / length_mm
    if float(np.max(np.abs((on_plan - first) @ across))) > _STRAIGHT_MM:
        raise ShapeError("its axis is not straight")
    return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))


def box_of(points: Points, axis: tuple[Point, Point] | None) -> Box:
    """Return points measured along an axis; without one, along the longer side of their least rectangle."""
    line = axis
    if line is None:
        hull = shapely.MultiPoint(points[:, :2]).minimum_rotated_rectangle
        if not isinstance(hull, shapely.Polygon):
            raise ShapeError("its body has no width on plan")
        corners = list(hull.exterior.coords)
        sides = [(corners[0], corners[1]), (corners[1], corners[2])]
        begin, finish = max(sides, key=lambda side: math.dist(*side))
        line = (begin[0], begin[1]), (finish[0], finish[1])
    (x, y), end = line
    length_mm = math.dist(*line)
    along = ((end[0] - x) / length_mm, (end[1] - y) / length_mm)
    offsets = points[:, :2] - np.array([x, y])
    u = offsets @ np.array(along)
    v = offsets @ np.array([-along[1], along[0]])
    return Box((x, y), along, _range(u), _range(v), _range(points[:, 2]))


def box_within(points: Points, box: Box) -> Box:
    """Return points measured along a wall."""
    offsets = points[:, :2] - np.array(box.origin)
    u = offsets @ np.array(box.along)
    v = offsets @ np.array([-box.along[1], box.along[0]])
    return Box(box.origin, box.along, _range(u), _range(v), _range(points[:, 2]))


def _range(values: Points) -> tuple[float, float]:
    return float(values.min()), float(values.max())
