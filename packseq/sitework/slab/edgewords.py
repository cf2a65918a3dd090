"""End by end of every wall at a slab edge: where it comes, where its line goes, what to do."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.sitework.slab.model import Fit
from packseq.sitework.usual import LEVEL_MM, OFFSET_MM, WITHIN_MM


@dataclass(frozen=True, slots=True)
class EdgeChoices:
    """How far lines lie off faces, and what counts as drawn at an edge and as level, in mm."""

    offset_mm: float = OFFSET_MM
    within_mm: float = WITHIN_MM
    level_mm: float = LEVEL_MM


@dataclass(frozen=True, slots=True)
class EdgeEnd:
    """One end of a wall at its slab edge.

    `drawn_mm` and `over_mm` are how far the outer face is drawn over the edge and comes over it here;
    `line_mm` is how far in from the edge its line goes.
    """

    wall: str
    edge: str
    corner: str
    drawn_mm: float
    over_mm: float
    line_mm: float
    to_do: str


def edge_ends(fit: Fit, choices: EdgeChoices) -> tuple[EdgeEnd, ...]:
    """Return both ends of every wall that stands at an edge, anticlockwise round the house."""
    return tuple(
        EdgeEnd(
            wall=each.at_edge.wall.name,
            edge=each.at_edge.edge.name,
            corner=corner,
            drawn_mm=drawn_mm,
            over_mm=over_mm,
            line_mm=each.at_edge.wall.thickness_mm + choices.offset_mm - over_mm,
            to_do=_to_do(over_mm - drawn_mm, choices.within_mm),
        )
        for each in fit.walls
        for corner, drawn_mm, over_mm in zip(
            each.at_edge.edge.corners, each.at_edge.drawn_mm, each.over_mm, strict=True
        )
    )


def _to_do(beyond_mm: float, within_mm: float) -> str:
    if abs(beyond_mm) <= within_mm:
        return "stand it so"
    if beyond_mm > 0:
        return f"{beyond_mm:.0f} mm more overhang than drawn: ask whether the plate bears enough"
    return f"{-beyond_mm:.0f} mm further back than drawn: ask how cladding and water get past the slab"
