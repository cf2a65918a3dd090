"""The joins that geometry shows against those that the model itself tells."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

import ifcopenshell
from shapely import Polygon

from packseq.entry.ifc.pieces import clear_of
from packseq.entry.ifc.walls import ModelWall
from packseq.geometry import strip

Pair = frozenset[int]


def told_joins(model: ifcopenshell.file) -> frozenset[Pair]:
    """Return the pairs of elements, by number, that the model joins along their paths."""
    pairs = (
        frozenset({relation.RelatingElement.id(), relation.RelatedElement.id()})
        for relation in model.by_type("IfcRelConnectsPathElements")
    )
    return frozenset(pair for pair in pairs if len(pair) > 1)


def compared(
    told: frozenset[Pair], pieces: Mapping[int, Sequence[ModelWall]], called: Mapping[int, str], gap_mm: float
) -> tuple[str, ...]:
    """Return where the model's joins and the geometry differ, one line each, or one that says how they agree.

    Parameters
    ----------
    told
        The pairs that the model joins.
    pieces
        The walls that were taken, by number, each in its pieces.
    called
        What the walls of the storey are called, by number, those not taken included.
    gap_mm
        How far apart walls may stand and still touch.
    """
    keys = sorted(pieces, key=list(called).index)
    drawn = {key: [(piece, _outline(piece)) for piece in pieces[key]] for key in keys}
    lines = []
    for place, first in enumerate(keys):
        for second in keys[place + 1 :]:
            joined = frozenset({first, second}) in told
            near = [
                (one, other)
                for (wall, one), (beside, other) in product(drawn[first], drawn[second])
                if joined or not clear_of(wall, beside, gap_mm)
            ]
            if not near:
                continue
            apart_mm = min(one.distance(other) for one, other in near)
            names = f"{called[first]} and {called[second]}"
            if joined and apart_mm > gap_mm:
                lines.append(f"The model joins {names}, but they stand {apart_mm:.0f} mm apart.")
            elif told and not joined and apart_mm <= gap_mm:
                lines.append(f"{names} touch, but the model does not join them.")
    for pair in sorted(told, key=sorted):
        missing = sorted(key for key in pair if key in called and key not in pieces)
        others = sorted(key for key in pair if key in pieces)
        if missing and others:
            lines.append(f"The model joins {called[others[0]]} to {called[missing[0]]}, which is not taken.")
    if lines:
        return tuple(lines)
    if not told:
        return ("The model does not tell which walls meet.",)
    return ("The model and the geometry agree on which walls meet.",)


def _outline(wall: ModelWall) -> Polygon:
    return Polygon(strip(wall.start, wall.end, wall.thickness_mm))
