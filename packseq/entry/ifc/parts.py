"""The parts that a framed panel is made of, and what they weigh."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ifcopenshell import entity_instance
from ifcopenshell.util.element import get_materials, get_psets

from packseq.entry.ifc.solids import ShapeError, body
from packseq.scenario.mass import DENSITY_KG_M3

_MOST_PARTS = 5000
_MM3_IN_M3 = 1e9
_TIMBER = ("IfcMember", "IfcBeam", "IfcColumn")


def parts_of(element: entity_instance) -> tuple[entity_instance, ...]:
    """Return every part that an element is put together from, parts of parts included, down to the last."""
    return tuple(_leaves(element, set()))


@dataclass(frozen=True, slots=True)
class PartsMass:
    """What the parts of a panel weigh together, None where none tells; `without` names those that do not."""

    kg: float | None
    without: tuple[str, ...]


def parts_mass(element: entity_instance, mm: float, kg: float) -> PartsMass:
    """Return what the parts of a panel weigh together.

    A part weighs what its quantities say; else its volume times the density of its material;
    else, where it is a framing member, its volume times that of framing timber (docs/mass.md).

    Parameters
    ----------
    element
        The panel.
    mm, kg
        Millimetres in a length of the model, and kilograms in a mass.
    """
    total = 0.0
    without: dict[str, None] = {}
    for part in parts_of(element):
        mass = _mass_kg(part, mm, kg) if part.Representation is not None else 0.0
        if mass is None:
            without[part.Name or part.is_a()] = None
        else:
            total += mass
    return PartsMass(round(total, 1) or None, tuple(without))


def _leaves(element: entity_instance, seen: set[int]) -> Iterator[entity_instance]:
    for relation in getattr(element, "IsDecomposedBy", ()):
        for part in relation.RelatedObjects:
            if part.id() in seen or len(seen) > _MOST_PARTS:
                continue
            seen.add(part.id())
            below = list(_leaves(part, seen))
            yield from below
            if not below and hasattr(part, "Representation"):
                yield part


def _mass_kg(part: entity_instance, mm: float, kg: float) -> float | None:
    quantities = [
        (name, value)
        for values in get_psets(part, qtos_only=True).values()
        for name, value in sorted(values.items())
    ]
    for name, value in quantities:
        if name.endswith("Weight") and isinstance(value, int | float) and value > 0:
            return float(value) * kg
    density = _density_kg_m3(part)
    volume_m3 = _volume_m3(part, mm)
    return None if density is None or volume_m3 is None else density * volume_m3


def _density_kg_m3(part: entity_instance) -> float | None:
    for material in get_materials(part):
        density = get_psets(material).get("Pset_MaterialCommon", {}).get("MassDensity")
        if isinstance(density, int | float) and density > 0:
            return float(density)
    return DENSITY_KG_M3 if any(part.is_a(kind) for kind in _TIMBER) else None


def _volume_m3(part: entity_instance, mm: float) -> float | None:
    try:
        solid = body(part)
    except ShapeError:
        return None
    return None if solid is None or solid.volume is None else solid.volume * mm**3 / _MM3_IN_M3
