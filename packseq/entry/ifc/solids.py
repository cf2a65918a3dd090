"""Shapes of a model as plain polygons: what of them matters to a wall is where their corners are.

The kinds of shape that walls, openings and framing members come in (ISO 16739, geometric
model resource): extrusions, boundary representations, face sets, half-space cuts of those, and
mapped copies.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from ifcopenshell import entity_instance
from ifcopenshell.util.placement import get_axis2placement, get_mappeditem_transformation

Points = npt.NDArray[np.float64]
Matrix = npt.NDArray[np.float64]

MOST_POLYGONS = 4_000
_MOST_DEPTH = 20
_NOISE = 1e-9


class ShapeError(Exception):
    """A shape that cannot be read, or that no straight frame has: why, in trade words."""


@dataclass(frozen=True)
class Solid:
    """The faces of a shape, each an array of points (in model units), and its volume where it is known.

    `partly_cut` tells that something was cut off that is not in the faces.
    """

    faces: tuple[Points, ...]
    volume: float | None = None
    partly_cut: bool = False

    def moved(self, matrix: Matrix) -> Solid:
        """Return the shape moved, turned or scaled by a 4 x 4 matrix."""
        faces = tuple(face @ matrix[:3, :3].T + matrix[:3, 3] for face in self.faces)
        scale = abs(float(np.linalg.det(matrix[:3, :3])))
        return Solid(faces, None if self.volume is None else self.volume * scale, self.partly_cut)

    @property
    def points(self) -> Points:
        """Every corner."""
        return np.concatenate(self.faces)


def body(element: entity_instance) -> Solid | None:
    """Return the body of an element in its own coordinates, or None when it has none.

    Raises
    ------
    ShapeError
        When the body is of a kind that cannot be read.
    """
    representation = getattr(element, "Representation", None)
    if representation is None:
        return None
    for shape in representation.Representations:
        if shape.RepresentationIdentifier == "Body":
            return _together([_solid(item, 0) for item in shape.Items])
    return None


def _together(solids: Sequence[Solid]) -> Solid:
    faces = tuple(face for solid in solids for face in solid.faces)
    if not faces:
        raise ShapeError("its body is empty")
    if len(faces) > MOST_POLYGONS:
        raise ShapeError(f"its body has {len(faces)} faces, more than are read")
    volumes = [solid.volume for solid in solids]
    known = None if any(volume is None for volume in volumes) else sum(volume or 0.0 for volume in volumes)
    return Solid(faces, known, any(solid.partly_cut for solid in solids))


def _solid(item: entity_instance, depth: int) -> Solid:
    if depth > _MOST_DEPTH:
        raise ShapeError("its body is nested too deep")
    if item.is_a("IfcExtrudedAreaSolid"):
        return _extrusion(item)
    if item.is_a("IfcBooleanResult"):
        return _cut(item, depth)
    if item.is_a("IfcMappedItem"):
        source = item.MappingSource
        inner = _together([_solid(part, depth + 1) for part in source.MappedRepresentation.Items])
        return inner.moved(np.array(get_mappeditem_transformation(item), dtype=float))
    return Solid(tuple(_faces(item)))


def _faces(item: entity_instance) -> Iterator[Points]:
    """Yield the faces of a body that is given by them."""
    if item.is_a("IfcFacetedBrep"):
        yield from _loops(item.Outer.CfsFaces)
    elif item.is_a("IfcFaceBasedSurfaceModel"):
        yield from _loops([face for shell in item.FbsmFaces for face in shell.CfsFaces])
    elif item.is_a("IfcShellBasedSurfaceModel"):
        yield from _loops([face for shell in item.SbsmBoundary for face in shell.CfsFaces])
    elif item.is_a("IfcPolygonalFaceSet"):
        points = _points(item.Coordinates.CoordList)
        yield from (points[np.array(face.CoordIndex) - 1] for face in item.Faces)
    elif item.is_a("IfcTriangulatedFaceSet"):
        points = _points(item.Coordinates.CoordList)
        yield from (points[np.array(face) - 1] for face in item.CoordIndex)
    else:
        raise ShapeError(f"its body is of a kind that is not read ({item.is_a()})")


def _loops(faces: Sequence[entity_instance]) -> Iterator[Points]:
    for face in faces:
        for bound in face.Bounds:
            if bound.Bound.is_a("IfcPolyLoop"):
                yield _points([point.Coordinates for point in bound.Bound.Polygon])
            else:
                raise ShapeError("its body has curved faces")


def _extrusion(item: entity_instance) -> Solid:
    outline = profile(item.SweptArea)
    direction = np.array(item.ExtrudedDirection.DirectionRatios, dtype=float)
    direction /= np.linalg.norm(direction)
    bottom = np.column_stack([outline, np.zeros(len(outline))])
    top = bottom + direction * item.Depth
    sides = [
        np.array([bottom[here - 1], bottom[here], top[here], top[here - 1]]) for here in range(len(bottom))
    ]
    volume = abs(_area(outline)) * float(item.Depth) * abs(float(direction[2]))
    solid = Solid((bottom, top, *sides), volume)
    # In IFC4 a position may be left out.
    return solid.moved(_placement(item.Position)) if item.Position is not None else solid


def profile(area: entity_instance) -> Points:
    """Return the outline of a profile in its own plane, without a closing point.

    Raises
    ------
    ShapeError
        When it is curved, or of a kind that cannot be read.
    """
    if area.is_a("IfcRectangleProfileDef"):
        half = np.array([area.XDim, area.YDim], dtype=float) / 2
        corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * half
        if area.Position is None:
            return corners
        matrix = np.array(get_axis2placement(area.Position), dtype=float)
        return _flat(np.column_stack([corners, np.zeros(4)]) @ matrix[:3, :3].T + matrix[:3, 3])
    if area.is_a("IfcArbitraryClosedProfileDef"):
        points = _flat(curve_points(area.OuterCurve))
        return points[:-1] if len(points) > 1 and np.allclose(points[0], points[-1]) else points
    raise ShapeError(f"its section is of a kind that is not read ({area.is_a()})")


def curve_points(curve: entity_instance) -> Points:
    """Return the points of a curve made of straight pieces.

    Raises
    ------
    ShapeError
        When it is curved.
    """
    if curve.is_a("IfcPolyline"):
        return _points([point.Coordinates for point in curve.Points])
    if curve.is_a("IfcIndexedPolyCurve"):
        points = _points(curve.Points.CoordList)
        if curve.Segments is None:
            return points
        if any(segment.is_a("IfcArcIndex") for segment in curve.Segments):
            raise ShapeError("it is curved on plan")
        order = [index for segment in curve.Segments for index in segment.wrappedValue]
        ordered: Points = points[np.array(list(dict.fromkeys(order))) - 1]
        return ordered
    if curve.is_a("IfcTrimmedCurve") and curve.BasisCurve.is_a("IfcLine"):
        return _trimmed_line(curve)
    if curve.is_a("IfcCompositeCurve"):
        return np.concatenate([curve_points(segment.ParentCurve) for segment in curve.Segments])
    raise ShapeError("it is curved on plan")


def _trimmed_line(curve: entity_instance) -> Points:
    """Return the two ends of a straight axis given as a trimmed line, by points or by parameters."""
    line = curve.BasisCurve
    origin = np.array(line.Pnt.Coordinates, dtype=float)
    ratios = np.array(line.Dir.Orientation.DirectionRatios, dtype=float)
    along = ratios / np.linalg.norm(ratios) * line.Dir.Magnitude
    ends = []
    for trims in (curve.Trim1, curve.Trim2):
        point = next((trim.Coordinates for trim in trims if trim.is_a("IfcCartesianPoint")), None)
        ends.append(np.array(point, dtype=float) if point else origin + along * trims[0].wrappedValue)
    return np.array(ends)


def _cut(item: entity_instance, depth: int) -> Solid:
    """Return a body with a half-space cut off; of anything else that is cut, only that it was."""
    solid = _solid(item.FirstOperand, depth + 1)
    tool = item.SecondOperand
    if item.Operator != "DIFFERENCE" or not tool.is_a("IfcHalfSpaceSolid"):
        return Solid(solid.faces, None, partly_cut=True)
    if not tool.BaseSurface.is_a("IfcPlane"):
        raise ShapeError("it is cut by a curved face")
    if tool.is_a("IfcPolygonalBoundedHalfSpace") and not _covers(tool, solid):
        return Solid(solid.faces, None, partly_cut=True)
    matrix = _placement(tool.BaseSurface.Position)
    # The half-space lies against the normal where the agreement flag is set; that side is cut off.
    keep = matrix[:3, 2] if tool.AgreementFlag else -matrix[:3, 2]
    faces = tuple(
        clipped
        for face in solid.faces
        if len(clipped := _clip(face, matrix[:3, 3], keep)) > 2  # noqa: PLR2004
    )
    if not faces:
        raise ShapeError("nothing is left of its body once it is cut")
    return Solid(faces, None, solid.partly_cut)


def _covers(tool: entity_instance, solid: Solid) -> bool:
    """Tell whether the outline within which a half-space cuts takes in the whole body."""
    outline = _flat(curve_points(tool.PolygonalBoundary))
    inverse = np.linalg.inv(_placement(tool.Position))
    inside = (solid.points @ inverse[:3, :3].T + inverse[:3, 3])[:, :2]
    slack = 1e-6 * max(1.0, float(np.ptp(inside)))
    return bool(
        np.all(inside.min(axis=0) >= outline.min(axis=0) - slack)
        and np.all(inside.max(axis=0) <= outline.max(axis=0) + slack)
    )


def _clip(face: Points, at: Points, keep: Points) -> Points:
    """Return the part of a polygon on the side of a plane to which `keep` points."""
    heights = (face - at) @ keep
    kept: list[Points] = []
    for here in range(len(face)):
        before, now = heights[here - 1], heights[here]
        if before * now < 0:
            kept.append(face[here - 1] + (face[here] - face[here - 1]) * (before / (before - now)))
        if now >= -_NOISE:
            kept.append(face[here])
    return np.array(kept).reshape(-1, 3)


def _placement(position: entity_instance) -> Matrix:
    return np.array(get_axis2placement(position), dtype=float)


def _points(coordinates: Sequence[Any]) -> Points:
    return np.array(coordinates, dtype=float)


def _flat(points: Points) -> Points:
    """Return the first two coordinates."""
    flat: Points = points[:, :2]
    return flat


def _area(outline: Points) -> float:
    x, y = outline[:, 0], outline[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
