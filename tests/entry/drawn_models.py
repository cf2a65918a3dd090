"""Small building models drawn for the tests, in IFC2x3 or IFC4."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import ifcopenshell
import ifcopenshell.guid
import numpy as np
import numpy.typing as npt
from ifcopenshell import entity_instance, geom
from ifcopenshell.util.shape import get_vertices

Point = tuple[float, float]
Schema = Literal["IFC2X3", "IFC4"]
Corners = npt.NDArray[np.float64]


@dataclass
class Drawing:
    """A model with one project, site and building, lengths in `mm_in_unit` millimetres."""

    model: ifcopenshell.file
    body: entity_instance
    axis: entity_instance
    building: entity_instance
    mm_in_unit: float = 1.0

    @classmethod
    def begun(cls, schema: Schema = "IFC4", unit: str = "mm") -> Drawing:
        """Begin a model; units are ``mm``, ``m`` or ``foot``."""
        model = ifcopenshell.file(schema=schema)
        length = model.createIfcSIUnit(None, "LENGTHUNIT", "MILLI" if unit == "mm" else None, "METRE")
        mm_in_unit = {"mm": 1.0, "m": 1000.0, "foot": 304.8}[unit]
        if unit == "foot":
            measure = model.createIfcMeasureWithUnit(model.createIfcLengthMeasure(0.3048), length)
            exponents = model.createIfcDimensionalExponents(1, 0, 0, 0, 0, 0, 0)
            length = model.createIfcConversionBasedUnit(exponents, "LENGTHUNIT", "FOOT", measure)
        mass = model.createIfcSIUnit(None, "MASSUNIT", "KILO", "GRAM")
        units = model.createIfcUnitAssignment([length, mass])
        origin = model.createIfcAxis2Placement3D(model.createIfcCartesianPoint((0.0, 0.0, 0.0)))
        context = model.createIfcGeometricRepresentationContext(None, "Model", 3, 1e-5, origin)
        body = model.createIfcGeometricRepresentationSubContext(
            "Body", "Model", None, None, None, None, context, None, "MODEL_VIEW"
        )
        axis = model.createIfcGeometricRepresentationSubContext(
            "Axis", "Model", None, None, None, None, context, None, "GRAPH_VIEW"
        )
        project = model.create_entity(
            "IfcProject",
            GlobalId=ifcopenshell.guid.new(),
            Name="invented house",
            RepresentationContexts=[context],
            UnitsInContext=units,
        )
        building = model.create_entity("IfcBuilding", GlobalId=ifcopenshell.guid.new(), Name="house")
        drawing = cls(model, body, axis, building, mm_in_unit)
        drawing.parts(project, [building])
        return drawing

    def storey(self, name: str, height_mm: float = 0.0, turned_deg: float = 0.0) -> entity_instance:
        """Add a storey, perhaps turned about the origin."""
        storey = self.model.create_entity("IfcBuildingStorey", GlobalId=ifcopenshell.guid.new(), Name=name)
        storey.ObjectPlacement = self.placement(None, (0.0, 0.0, height_mm), turned_deg)
        self.parts(self.building, [storey])
        return storey

    def parts(self, whole: entity_instance, parts: Sequence[entity_instance]) -> None:
        """Make elements the parts of another."""
        self.model.create_entity(
            "IfcRelAggregates",
            GlobalId=ifcopenshell.guid.new(),
            RelatingObject=whole,
            RelatedObjects=list(parts),
        )

    def put(self, storey: entity_instance, element: entity_instance) -> None:
        """Stand an element on a storey."""
        self.model.create_entity(
            "IfcRelContainedInSpatialStructure",
            GlobalId=ifcopenshell.guid.new(),
            RelatedElements=[element],
            RelatingStructure=storey,
        )

    def placement(
        self,
        below: entity_instance | None,
        at_mm: tuple[float, float, float],
        turned_deg: float = 0.0,
        up: tuple[float, float, float] = (0.0, 0.0, 1.0),
    ) -> entity_instance:
        """Return a placement relative to another."""
        angle = math.radians(turned_deg)
        position = self.model.createIfcAxis2Placement3D(
            self.point(at_mm),
            self.model.createIfcDirection(up),
            self.model.createIfcDirection((math.cos(angle), math.sin(angle), 0.0)),
        )
        return self.model.createIfcLocalPlacement(below, position)

    def point(self, at_mm: Sequence[float]) -> entity_instance:
        """Return a point given in mm."""
        return self.model.createIfcCartesianPoint(tuple(float(value) / self.mm_in_unit for value in at_mm))

    def box(self, x: Point, y: Point, height_mm: float, foot_mm: float = 0.0) -> entity_instance:
        """Return an upright box from x to x and y to y, in mm."""
        corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1]), (x[0], y[0])]
        return self.prism(corners, height_mm, foot_mm)

    def prism(
        self, outline: Sequence[Point], height_mm: float, foot_mm: float = 0.0, lean: float = 0.0
    ) -> entity_instance:
        """Return an outline (closed) drawn up, perhaps leaning along y by `lean` for each mm of height."""
        curve = self.model.createIfcPolyline([self.point(corner) for corner in outline])
        area = self.model.createIfcArbitraryClosedProfileDef("AREA", None, curve)
        position = self.model.createIfcAxis2Placement3D(self.point((0.0, 0.0, foot_mm)))
        direction = self.model.createIfcDirection((0.0, lean, 1.0))
        return self.model.createIfcExtrudedAreaSolid(area, position, direction, height_mm / self.mm_in_unit)

    def element(
        self,
        kind: str,
        name: str | None,
        placement: entity_instance | None,
        solid: entity_instance | None,
        axis: Sequence[Point] | None = None,
    ) -> entity_instance:
        """Return an element with a body and perhaps an axis, points in mm."""
        shapes = []
        if axis is not None:
            line = self.model.createIfcPolyline([self.point(point) for point in axis])
            shapes.append(self.model.createIfcShapeRepresentation(self.axis, "Axis", "Curve2D", [line]))
        if solid is not None:
            shapes.append(self.model.createIfcShapeRepresentation(self.body, "Body", "SweptSolid", [solid]))
        element = self.model.create_entity(kind, GlobalId=ifcopenshell.guid.new(), Name=name)
        element.ObjectPlacement = placement
        if shapes:
            element.Representation = self.model.createIfcProductDefinitionShape(None, None, shapes)
        return element

    def wall(
        self,
        storey: entity_instance,
        name: str,
        start: Point,
        end: Point,
        size: Point = (90.0, 2400.0),
    ) -> entity_instance:
        """Stand a straight wall, its axis in the middle; `size` is its thickness and height, all in mm."""
        thickness_mm, height_mm = size
        length_mm = math.dist(start, end)
        turned = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
        placement = self.placement(storey.ObjectPlacement, (*start, 0.0), turned)
        solid = self.box((0.0, length_mm), (-thickness_mm / 2, thickness_mm / 2), height_mm)
        wall = self.element("IfcWall", name, placement, solid, [(0.0, 0.0), (length_mm, 0.0)])
        self.put(storey, wall)
        return wall

    def hole(
        self,
        wall: entity_instance,
        along: Point,
        up: Point,
        filled_by: str | None = None,
        *,
        across: Point = (-60.0, 60.0),
    ) -> entity_instance:
        """Cut a hole in a wall: where it begins and how wide, its sill and head; perhaps filled."""
        (from_mm, width_mm), (sill_mm, head_mm) = along, up
        placement = self.placement(wall.ObjectPlacement, (from_mm, 0.0, sill_mm))
        solid = self.box((0.0, width_mm), across, head_mm - sill_mm)
        hole = self.element("IfcOpeningElement", "hole", placement, solid)
        self.model.create_entity(
            "IfcRelVoidsElement",
            GlobalId=ifcopenshell.guid.new(),
            RelatingBuildingElement=wall,
            RelatedOpeningElement=hole,
        )
        if filled_by is not None:
            self.model.create_entity(
                "IfcRelFillsElement",
                GlobalId=ifcopenshell.guid.new(),
                RelatingOpeningElement=hole,
                RelatedBuildingElement=self.element(filled_by, "leaf", placement, None),
            )
        return hole

    def joined(self, first: entity_instance, second: entity_instance) -> None:
        """Say that two walls meet."""
        self.model.create_entity(
            "IfcRelConnectsPathElements",
            GlobalId=ifcopenshell.guid.new(),
            RelatingElement=first,
            RelatedElement=second,
            RelatingPriorities=[],
            RelatedPriorities=[],
            RelatedConnectionType="ATSTART",
            RelatingConnectionType="ATEND",
        )

    def property(self, element: entity_instance, pset: str, name: str, kind: str, value: object) -> None:
        """Give an element a property."""
        nominal = self.model.create_entity(kind, value)
        single = self.model.create_entity("IfcPropertySingleValue", Name=name, NominalValue=nominal)
        self.model.create_entity(
            "IfcRelDefinesByProperties",
            GlobalId=ifcopenshell.guid.new(),
            RelatedObjects=[element],
            RelatingPropertyDefinition=self.model.create_entity(
                "IfcPropertySet", GlobalId=ifcopenshell.guid.new(), Name=pset, HasProperties=[single]
            ),
        )

    def saved(self, folder: Path) -> Path:
        """Write the model and return its file."""
        path = folder / "model.ifc"
        self.model.write(str(path))
        return path


def two_rooms(schema: Schema = "IFC4", unit: str = "mm", turned_deg: float = 0.0) -> Drawing:
    """Draw a house 6000 x 4000 over the outside with one wall inside, a door and a window.

    South and north walls run through, so the side walls are 4000 - 2 x 90 = 3820 long; the
    inside wall reaches from face to face.
    """
    drawing = Drawing.begun(schema, unit)
    storey = drawing.storey("Ground", turned_deg=turned_deg)
    south = drawing.wall(storey, "South", (0, 45), (6000, 45))
    east = drawing.wall(storey, "East", (5955, 90), (5955, 3910))
    north = drawing.wall(storey, "North", (6000, 3955), (0, 3955))
    west = drawing.wall(storey, "West", (45, 3910), (45, 90))
    inside = drawing.wall(storey, "Inside", (2500, 90), (2500, 3910), (70.0, 2400.0))
    drawing.hole(south, (700, 900), (0, 2030), "IfcDoor")
    drawing.hole(north, (1000, 1200), (900, 2030), "IfcWindow")
    drawing.hole(inside, (500, 800), (0, 2030))
    for wall in (south, east, north, west):
        drawing.property(wall, "Pset_WallCommon", "IsExternal", "IfcBoolean", True)
    drawing.property(inside, "Pset_WallCommon", "IsExternal", "IfcBoolean", False)
    for first, second in ((south, east), (east, north), (north, west), (west, south), (inside, south)):
        drawing.joined(first, second)
    drawing.joined(inside, north)
    return drawing


def engine_points(element: entity_instance, *, cut: bool = False) -> Corners:
    """Return the corners of an element in mm, worked out by ifcopenshell's geometry engine.

    That engine builds solid shapes and meshes them: another road to the same places than reading
    axes, profiles and placements. `cut` has the holes cut out.
    """
    settings = geom.settings()
    settings.set("use-world-coords", True)
    settings.set("disable-opening-subtractions", not cut)
    shape: Any = geom.create_shape(settings, element)
    return np.asarray(get_vertices(shape.geometry), dtype=float) * 1000.0
