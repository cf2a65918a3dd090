"""Walls and framed panels of a model as straight rectangles on the plan with openings, or why not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from ifcopenshell import entity_instance
from ifcopenshell.util.element import get_psets
from ifcopenshell.util.placement import get_local_placement

from packseq.entry.ifc.parts import parts_mass, parts_of
from packseq.entry.ifc.solids import Matrix, Points, ShapeError, Solid, body, curve_points
from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.model import Location, Opening, OpeningKind

_UPRIGHT = math.cos(math.radians(0.5))
_STRAIGHT_MM = 1.0
_FARTHEST_MM = 1e11
"""Twice round the earth: no map coordinate is larger."""

_LEANS_MM = 20.0
_RAKED_MM = 20.0
_DOORSTEP_MM = 25.0
"""A door whose sill is no higher than this above the wall's foot reaches the floor: a threshold."""

_SHALLOW = 0.5
"""A hole that goes through less of the wall's thickness than this is a recess."""

_LONGEST_MM = 200_000
"""No wall of a house is longer."""

_PLACES = 1
"""Decimals of a mm that are kept: models are drawn, not measured."""


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


@dataclass(frozen=True, slots=True)
class Scale:
    """How many mm a length of the model is, and how many kg a mass."""

    mm: float
    kg: float


@dataclass(frozen=True, slots=True)
class _Box:
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
        return (round(x, _PLACES), round(y, _PLACES))


def read_wall(element: entity_instance, scale: Scale) -> ModelWall:
    """Return a wall or a framed panel as a straight frame.

    Raises
    ------
    ShapeError
        When it is none: curved, leaning, not straight, or of a size that no frame has.
    """
    if element.is_a("IfcCurtainWall"):
        raise ShapeError("it is a curtain wall, not a framed wall")
    matrix = _world(element)
    if abs(matrix[2, 2]) < _UPRIGHT:
        raise ShapeError("it leans")
    framed = bool(parts_of(element))
    solid = _whole(element, scale)
    if not np.all(np.abs(solid.points) < _FARTHEST_MM):
        raise ShapeError("it lies out of this world")
    axis = _axis(element, scale)
    box = _box(solid.points, axis)
    if axis is not None and framed and body(element) is None:
        # The parts of a panel may stand proud of its axis at either end; the axis says how long it is.
        box = _Box(box.origin, box.along, (0.0, math.dist(*axis)), box.v, box.z)
    _check_upright(solid.points, box)
    if not framed:
        _check_straight(solid, box)
    height_mm, raked = _height(solid.points, box)
    openings, notes = _openings(element, scale, box)
    mass = parts_mass(element, scale.mm, scale.kg) if framed else None
    if mass is not None and mass.without:
        notes = (*notes, f"its mass is without {', '.join(mass.without)}: nothing tells what they weigh")
    start, end = (box.at(u, math.fsum(box.v) / 2) for u in box.u)
    wall = ModelWall(
        key=element.id(),
        called=(element.Name or element.is_a()).strip(),
        start=start,
        end=end,
        thickness_mm=round(box.v[1] - box.v[0], _PLACES),
        height_mm=round(height_mm, _PLACES),
        foot_mm=round(box.z[0], _PLACES),
        location=_location(element),
        openings=openings,
        framed=framed,
        mass_kg=None if mass is None else mass.kg,
        notes=(*([raked] if raked else []), *notes),
    )
    _check_sizes(wall)
    return wall


def _world(element: entity_instance) -> Matrix:
    """Return the placement of an element in the model's own coordinates."""
    if element.ObjectPlacement is None:
        raise ShapeError("it has no place in the model")
    return np.array(get_local_placement(element.ObjectPlacement), dtype=float)


def _whole(element: entity_instance, scale: Scale) -> Solid:
    """Return the body of a wall in mm, or of all its parts where it has none of its own."""
    bodies = [
        own.moved(_in_mm(_world(part), scale))
        for part in (element, *parts_of(element))
        if (own := body(part)) is not None
    ]
    if not bodies:
        raise ShapeError("it has no body")
    own_body = body(element)
    taken = bodies[:1] if own_body is not None else bodies
    faces = tuple(face for solid in taken for face in solid.faces)
    return Solid(faces, partly_cut=any(solid.partly_cut for solid in taken))


def _in_mm(matrix: Matrix, scale: Scale) -> Matrix:
    scaled = matrix.copy()
    scaled[:3, :] *= scale.mm
    return scaled


def _axis(element: entity_instance, scale: Scale) -> tuple[Point, Point] | None:
    """Return the two ends of a wall's axis on the plan in mm, or None where it has none."""
    shapes = element.Representation.Representations if element.Representation is not None else ()
    axis = next((shape for shape in shapes if shape.RepresentationIdentifier == "Axis"), None)
    if axis is None or not axis.Items:
        return None
    local = np.concatenate([curve_points(item) for item in axis.Items])
    flat = np.zeros((len(local), 3))
    flat[:, : local.shape[1]] = local
    matrix = _in_mm(_world(element), scale)
    world = (flat @ matrix[:3, :3].T + matrix[:3, 3])[:, :2]
    first, last = world[0], world[-1]
    length_mm = float(np.linalg.norm(last - first))
    if length_mm < _STRAIGHT_MM:
        raise ShapeError("its axis comes back to where it begins")
    across = np.array([first[1] - last[1], last[0] - first[0]]) / length_mm
    if float(np.max(np.abs((world - first) @ across))) > _STRAIGHT_MM:
        raise ShapeError("its axis is not straight")
    return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))


def _box(points: Points, axis: tuple[Point, Point] | None) -> _Box:
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
    return _Box((x, y), along, _range(u), _range(v), _range(points[:, 2]))


def _range(values: Points) -> tuple[float, float]:
    return float(values.min()), float(values.max())


def _check_upright(points: Points, box: _Box) -> None:
    """Refuse a wall whose foot is not as thick as the whole of it: it leans, or changes thickness."""
    foot = points[points[:, 2] < box.z[0] + _STRAIGHT_MM]
    across = (foot[:, :2] - np.array(box.origin)) @ np.array([-box.along[1], box.along[0]])
    if max(across.min() - box.v[0], box.v[1] - across.max()) > _LEANS_MM:
        raise ShapeError("it leans, or is not one thickness all the way up")


def _check_straight(solid: Solid, box: _Box) -> None:
    """Refuse a wall that does not fill its rectangle on the plan; both ends may be mitred."""
    outlines = [shapely.Polygon(face[:, :2]).buffer(0) for face in solid.faces if len(face) > 2]  # noqa: PLR2004
    filled = shapely.union_all(outlines).area
    length_mm, thickness_mm = box.u[1] - box.u[0], box.v[1] - box.v[0]
    if filled < length_mm * thickness_mm - thickness_mm * thickness_mm * 1.1:
        raise ShapeError("it is curved, bent or branched on plan, not one straight wall")


def _height(points: Points, box: _Box) -> tuple[float, str | None]:
    """Return the height of a wall's tallest place, and a note where its top is not level along it."""
    along = (points[:, :2] - np.array(box.origin)) @ np.array(box.along)
    ends = [float(points[np.abs(along - end) < _STRAIGHT_MM][:, 2].max(initial=box.z[0])) for end in box.u]
    tall_mm = box.z[1] - box.z[0]
    low_mm = min(ends) - box.z[0]
    if low_mm <= 0 or tall_mm - low_mm <= _RAKED_MM:
        return tall_mm, None
    return tall_mm, f"its top is not level ({low_mm:.0f} to {tall_mm:.0f} mm): taken at its tallest"


def _location(element: entity_instance) -> Location | None:
    value = get_psets(element).get("Pset_WallCommon", {}).get("IsExternal")
    if value is None:
        return None
    return "external" if value else "internal"


def _openings(
    element: entity_instance, scale: Scale, box: _Box
) -> tuple[tuple[Opening, ...], tuple[str, ...]]:
    """Return the openings of a wall along it, and notes on holes that are none."""
    found: list[Opening] = []
    notes: list[str] = []
    for relation in getattr(element, "HasOpenings", ()):
        hole = relation.RelatedOpeningElement
        called = hole.Name or hole.GlobalId
        try:
            own = _box_within(_whole(hole, scale).points, box)
        except ShapeError as error:
            notes.append(f"the opening {called} is left out: {error}")
            continue
        opening = _opening(hole, own, box)
        if isinstance(opening, str):
            notes.append(f"the opening {called} is left out: {opening}")
        else:
            found.append(opening)
    found.sort(key=lambda opening: (opening.from_mm, opening.width_mm))
    return tuple(_apart(found, notes)), tuple(notes)


def _box_within(points: Points, box: _Box) -> _Box:
    """Return points measured along a wall."""
    offsets = points[:, :2] - np.array(box.origin)
    u = offsets @ np.array(box.along)
    v = offsets @ np.array([-box.along[1], box.along[0]])
    return _Box(box.origin, box.along, _range(u), _range(v), _range(points[:, 2]))


def _opening(hole: entity_instance, own: _Box, box: _Box) -> Opening | str:
    """Return a hole as an opening of its wall, or why it is none."""
    from_mm, to_mm = max(own.u[0], box.u[0]), min(own.u[1], box.u[1])
    through = min(own.v[1], box.v[1]) - max(own.v[0], box.v[0])
    thickness_mm = box.v[1] - box.v[0]
    # What the model itself calls an opening may be drawn beside the wall that it is in.
    declared = getattr(hole, "PredefinedType", None) == "OPENING"
    if through < (-thickness_mm if declared else _SHALLOW * thickness_mm):
        return "it does not go through the wall"
    sill_mm = max(own.z[0], box.z[0]) - box.z[0]
    head_mm = min(own.z[1], box.z[1]) - box.z[0]
    if to_mm - from_mm < limits.LEAST_OPENING_MM or head_mm - sill_mm < limits.LEAST_OPENING_MM:
        return "it is smaller than any opening that is framed"
    kind = _kind(hole)
    if sill_mm <= _DOORSTEP_MM:
        sill_mm = 0.0
    elif kind == "door":
        kind = "opening"
    return Opening(
        kind,
        round(from_mm - box.u[0], _PLACES),
        round(to_mm - from_mm, _PLACES),
        round(sill_mm, _PLACES),
        round(head_mm, _PLACES),
    )


def _kind(hole: entity_instance) -> OpeningKind:
    for relation in hole.HasFillings:
        if relation.RelatedBuildingElement.is_a("IfcDoor"):
            return "door"
        if relation.RelatedBuildingElement.is_a("IfcWindow"):
            return "window"
    return "opening"


def _apart(openings: Sequence[Opening], notes: list[str]) -> Iterator[Opening]:
    """Yield openings in order along a wall; those that overlap along it are taken as one."""
    held: Opening | None = None
    for opening in openings:
        if held is not None and opening.from_mm < held.from_mm + held.width_mm - _STRAIGHT_MM / 2:
            to_mm = max(held.from_mm + held.width_mm, opening.from_mm + opening.width_mm)
            sill_mm = min(held.sill_mm, opening.sill_mm)
            kind: OpeningKind = held.kind if held.kind == opening.kind else "opening"
            notes.append("two openings overlap along it: taken as one")
            held = Opening(
                kind, held.from_mm, to_mm - held.from_mm, sill_mm, max(held.head_mm, opening.head_mm)
            )
            continue
        if held is not None:
            yield held
        held = opening
    if held is not None:
        yield held


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
