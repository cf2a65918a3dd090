"""Which walls and framed panels stand on a storey."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

import ifcopenshell
from ifcopenshell import entity_instance
from ifcopenshell.util.element import get_container

from packseq.entry.ifc.parts import parts_of
from packseq.errors import Fault, InputError

MOST_WALLS = 500
"""No storey of a house has more; with the length of them together it keeps the time bounded."""

_MOST_NESTED = 20
_WALLS = ("IfcWall", "IfcCurtainWall")


def walls_of_storey(
    model: ifcopenshell.file, file: str, storey: str | None
) -> tuple[tuple[entity_instance, ...], str | None]:
    """Return the walls and framed panels of a storey in the order of the model, and the storey's name.

    Without a name the one storey that has walls is taken; a model without storeys counts as one.

    Raises
    ------
    InputError
        When there is no such storey, it has no walls, or several might be meant.
    """
    elements = tuple(_wall_like(model))
    if not elements:
        raise InputError([Fault(file, "has no walls")])
    by_storey: dict[str, list[entity_instance]] = {}
    for element in elements:
        by_storey.setdefault(_storey_name(element), []).append(element)
    for name, walls in by_storey.items():
        if len(walls) > MOST_WALLS and storey in {None, name}:
            text = f"has {len(walls)} walls on the storey {name!r}; at most {MOST_WALLS} are read"
            raise InputError([Fault(file, text)])
    if storey is not None:
        names = [_name(one) for one in model.by_type("IfcBuildingStorey")]
        found = next((name for name in names if name.casefold() == storey.strip().casefold()), None)
        if found is None:
            raise InputError([Fault(file, f"has no storey named {storey!r}{_hint(storey, names)}")])
        if found not in by_storey:
            raise InputError([Fault(file, f"has no walls on the storey {found!r}{_others(by_storey)}")])
        return tuple(by_storey[found]), found
    if len(by_storey) > 1:
        listed = ", ".join(f"{name!r} ({len(walls)} walls)" for name, walls in by_storey.items())
        raise InputError([Fault(file, f"has walls on several storeys; name one with --storey: {listed}")])
    name = next(iter(by_storey))
    return elements, name or None


def _wall_like(model: ifcopenshell.file) -> Iterator[entity_instance]:
    """Yield walls, and assemblies of framing members that are no part of a wall, nor of a type of walls."""
    for kind in _WALLS:
        for wall in model.by_type(kind):
            if not any(relation.RelatingObject.is_a("IfcWall") for relation in wall.Decomposes):
                yield wall
    for assembly in model.by_type("IfcElementAssembly"):
        wholes = [relation.RelatingObject for relation in assembly.Decomposes]
        part = any(whole.is_a("IfcElement") or whole.is_a("IfcTypeProduct") for whole in wholes)
        if not part and any(one.is_a("IfcMember") or one.is_a("IfcPlate") for one in parts_of(assembly)):
            yield assembly


def _storey_name(element: entity_instance) -> str:
    container = get_container(element)
    for _ in range(_MOST_NESTED):
        if container is None:
            return ""
        if container.is_a("IfcBuildingStorey"):
            return _name(container)
        container = next((relation.RelatingObject for relation in container.Decomposes), None)
    return ""


def _name(storey: entity_instance) -> str:
    return str(storey.Name or storey.GlobalId).strip()


def _hint(storey: str, names: list[str]) -> str:
    near = difflib.get_close_matches(storey, names, n=1)
    if near:
        return f"; did you mean {near[0]!r}?"
    if not names:
        return "; it has no storeys: leave --storey out"
    return f"; its storeys are {', '.join(map(repr, names))}"


def _others(by_storey: dict[str, list[entity_instance]]) -> str:
    names = [name for name in by_storey if name]
    return f"; there are walls on {', '.join(map(repr, names))}" if names else ""
