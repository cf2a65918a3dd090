"""Walls and framed panels of a model as straight rectangles on the plan with openings, or why not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from ifcopenshell import entity_instance
from ifcopenshell.util.element import get_material, get_materials, get_psets

from packseq.entry.ifc.holes import openings_of
from packseq.entry.ifc.measured import PLACES, Box, Scale, axis_of, box_of, whole, world
from packseq.entry.ifc.parts import parts_mass, parts_of
from packseq.entry.ifc.solids import Points, ShapeError, Solid, body
from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.model import Location, Opening

_UPRIGHT = math.cos(math.radians(0.5))
_STRAIGHT_MM = 1.0
_LEANS_MM = 20.0
_RAKED_MM = 20.0
_LONGEST_MM = 200_000
"""No wall of a house is longer."""


@dataclass(frozen=True, slots=True)
class ModelWall:
    """A wall of a model as one straight frame, in mm.

    `key` is its number in the model, `called` its name there. `framed` tells that it is a framed
    panel already, which is kept as it is; then `mass_kg` is that of its parts, where they tell.
    `notes` say what was taken otherwise than drawn.
    """

    key: int
    called: str
    start: Point
    end: Point
    thickness_mm: float
    height_mm: float
    foot_mm: float
    location: Location | None
    openings: tuple[Opening, ...]
    framed: bool
    mass_kg: float | None
    notes: tuple[str, ...]

    @property
    def length_mm(self) -> float:
        """Length on the plan in mm."""
        return math.dist(self.start, self.end)


def read_wall(element: entity_instance, scale: Scale) -> ModelWall:
    """Return a wall or a framed panel as a straight frame.

    Raises
    ------
    ShapeError
        When it is none: curved, leaning, not straight, or of a size that no frame has.
    """
    if element.is_a("IfcCurtainWall"):
        raise ShapeError("it is a curtain wall, not a framed wall")
    matrix = world(element)
    if abs(matrix[2, 2]) < _UPRIGHT:
        raise ShapeError("it leans")
    framed = bool(parts_of(element))
    solid = whole(element, scale)
    axis = axis_of(element, scale)
    box = box_of(solid.points, axis)
    if axis is not None and framed and body(element) is None:
        # The parts of a panel may stand proud of its axis at either end; the axis says how long it is.
        box = Box(box.origin, box.along, (0.0, math.dist(*axis)), box.v, box.z)
    _check_upright(solid.points, box)
    if not framed:
        _check_straight(solid, box)
    height_mm, raked = _height(solid.points, box)
    openings, notes = openings_of(element, scale, box)
    if solid.partly_cut:
        notes = (*notes, "something is cut off its body that is not reckoned with")
    made_of = None if framed else _made_of(element, scale)
    if made_of is not None:
        notes = (*notes, f"drawn as {made_of}: taken as one frame of its whole thickness")
    mass = parts_mass(element, scale.mm, scale.kg) if framed else None
    if mass is not None and mass.without:
        notes = (*notes, f"its mass is without {', '.join(mass.without)}: nothing tells what they weigh")
    start, end = (box.at(u, math.fsum(box.v) / 2) for u in box.u)
    wall = ModelWall(
        key=element.id(),
        called=(element.Name or element.is_a()).strip(),
        start=start,
        end=end,
        thickness_mm=round(box.v[1] - box.v[0], PLACES),
        height_mm=round(height_mm, PLACES),
        foot_mm=round(box.z[0], PLACES),
        location=_location(element),
        openings=openings,
        framed=framed,
        mass_kg=None if mass is None else mass.kg,
        notes=(*([raked] if raked else []), *notes),
    )
    _check_sizes(wall)
    return wall


def _check_upright(points: Points, box: Box) -> None:
    """Refuse a wall whose foot is not as thick as the whole of it: it leans, or changes thickness."""
    foot = points[points[:, 2] < box.z[0] + _STRAIGHT_MM]
    across = (foot[:, :2] - np.array(box.origin)) @ np.array([-box.along[1], box.along[0]])
    if max(across.min() - box.v[0], box.v[1] - across.max()) > _LEANS_MM:
        raise ShapeError("it leans, or is not one thickness all the way up")


def _check_straight(solid: Solid, box: Box) -> None:
    """Refuse a wall that does not fill its rectangle on the plan; both ends may be mitred."""
    outlines = [shapely.Polygon(face[:, :2]).buffer(0) for face in solid.faces if len(face) > 2]  # noqa: PLR2004
    filled = shapely.union_all(outlines).area
    length_mm, thickness_mm = box.u[1] - box.u[0], box.v[1] - box.v[0]
    if filled < length_mm * thickness_mm - thickness_mm * thickness_mm * 1.1:
        raise ShapeError("it is curved, bent or branched on plan, not one straight wall")


def _height(points: Points, box: Box) -> tuple[float, str | None]:
    """Return the height of a wall's tallest place, and a note where its top is not level along it."""
    along = (points[:, :2] - np.array(box.origin)) @ np.array(box.along)
    ends = [float(points[np.abs(along - end) < _STRAIGHT_MM][:, 2].max(initial=box.z[0])) for end in box.u]
    tall_mm = box.z[1] - box.z[0]
    low_mm = min(ends) - box.z[0]
    if low_mm <= 0 or tall_mm - low_mm <= _RAKED_MM:
        return tall_mm, None
    return tall_mm, f"its top is not level ({low_mm:.0f} to {tall_mm:.0f} mm): taken at its tallest"


def _made_of(element: entity_instance, scale: Scale) -> str | None:
    """Return the materials of a wall drawn of more than one, with their thickness if the model tells."""
    layers = getattr(get_material(element, should_skip_usage=True), "MaterialLayers", None)
    if layers:
        named = [
            f"{layer.LayerThickness * scale.mm:g} mm {layer.Material.Name}"
            for layer in layers
            if layer.Material
        ]
    else:
        named = list(dict.fromkeys(str(material.Name) for material in get_materials(element)))
    return " + ".join(named) if len(named) > 1 else None


def _location(element: entity_instance) -> Location | None:
    value = get_psets(element).get("Pset_WallCommon", {}).get("IsExternal")
    if value is None:
        return None
    return "external" if value else "internal"


def _check_sizes(wall: ModelWall) -> None:
    """Refuse a wall of a size that no frame has."""
    for what, size_mm, least, most in (
        ("long", wall.length_mm, limits.LEAST_FRAME_MM, _LONGEST_MM),
        ("thick", wall.thickness_mm, limits.LEAST_THICKNESS_MM, limits.MOST_THICKNESS_MM),
        ("high", wall.height_mm, limits.LEAST_HEIGHT_MM, limits.MOST_HEIGHT_MM),
    ):
        if not least <= size_mm <= most:
            raise ShapeError(f"it is {size_mm:.0f} mm {what}; walls from {least} to {most} are taken")
    if wall.framed and wall.length_mm > limits.MOST_FRAME_MM:
        raise ShapeError(f"it is a panel {wall.length_mm:.0f} mm long; no frame is so long")
