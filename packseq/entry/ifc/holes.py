"""Holes in a wall as openings of a frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ifcopenshell import entity_instance

from packseq.entry.ifc.measured import PLACES, Box, Scale, box_within, whole
from packseq.entry.ifc.solids import ShapeError
from packseq.scenario import limits
from packseq.scenario.model import Opening, OpeningKind

_DOORSTEP_MM = 25.0
"""A door whose sill is no higher than this above the wall's foot reaches the floor: a threshold."""

_SHALLOW = 0.5
"""A hole that goes through less of the wall's thickness than this is a recess."""

_OVERLAP_MM = 0.5


def openings_of(
    element: entity_instance, scale: Scale, box: Box
) -> tuple[tuple[Opening, ...], tuple[str, ...]]:
    """Return the openings of a wall along it, and notes on holes that are none."""
    found: list[Opening] = []
    notes: list[str] = []
    for relation in getattr(element, "HasOpenings", ()):
        hole = relation.RelatedOpeningElement
        called = hole.Name or hole.GlobalId
        try:
            own = box_within(whole(hole, scale).points, box)
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


def _opening(hole: entity_instance, own: Box, box: Box) -> Opening | str:
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
        round(from_mm - box.u[0], PLACES),
        round(to_mm - from_mm, PLACES),
        round(sill_mm, PLACES),
        round(head_mm, PLACES),
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
        if held is not None and opening.from_mm < held.from_mm + held.width_mm - _OVERLAP_MM:
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
