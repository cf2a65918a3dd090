"""How far the slab's corners are out of square, and its sides out of length."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packseq.geometry import Point, Ring
from packseq.sitework.slab.model import Adjusted
from packseq.sitework.slabedges import corners_at, slab_edges


@dataclass(frozen=True, slots=True)
class CornerShape:
    """A corner of the slab as measured.

    `turned_deg` is by how much its angle on the slab's side is more than drawn, `over_mm` the length of the
    shorter side at it, and `out_mm` what the angle comes to over that length.
    """

    name: str
    at: Point
    moved: Point
    sd_mm: Point
    angle_deg: float
    turned_deg: float
    over_mm: float
    out_mm: float


@dataclass(frozen=True, slots=True)
class Side:
    """A side of the slab: its length as drawn and as measured, in mm."""

    name: str
    drawn_mm: float
    measured_mm: float


def corner_shapes(slab: Ring, adjusted: Adjusted) -> tuple[CornerShape, ...]:
    """Return every corner as measured, in the order of site.toml."""
    drawn = corners_at(slab)
    edges = slab_edges(slab)
    made = {}
    for before, after in zip([edges[-1], *edges], edges, strict=False):
        name = after.corners[0]
        three = (before.corners[0], name, after.corners[1])
        now, then = _angle_deg(adjusted.corners, three), _angle_deg(drawn, three)
        over_mm = min(math.dist(adjusted.corners[name], adjusted.corners[other]) for other in three[::2])
        at, was = adjusted.corners[name], drawn[name]
        made[name] = CornerShape(
            name=name,
            at=at,
            moved=(at[0] - was[0], at[1] - was[1]),
            sd_mm=adjusted.sd_mm[name],
            angle_deg=now,
            turned_deg=now - then,
            over_mm=over_mm,
            out_mm=over_mm * math.tan(math.radians(now - then)),
        )
    return tuple(made[name] for name in drawn)


def sides(slab: Ring, adjusted: Adjusted) -> tuple[Side, ...]:
    """Return every side, anticlockwise."""
    drawn = corners_at(slab)

    def length(at: Mapping[str, Point], ends: tuple[str, str]) -> float:
        return math.dist(at[ends[0]], at[ends[1]])

    return tuple(
        Side(edge.name, length(drawn, edge.corners), length(adjusted.corners, edge.corners))
        for edge in slab_edges(slab)
    )


def _angle_deg(at: Mapping[str, Point], three: Sequence[str]) -> float:
    """Return the angle on the slab's side at the middle one of three corners passed anticlockwise."""
    before, turn, after = (at[name] for name in three)
    (ax, ay), (bx, by) = (after[0] - turn[0], after[1] - turn[1]), (before[0] - turn[0], before[1] - turn[1])
    return math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)) % 360.0
