"""The bottom plates on the slab: their lengths between doorways, and where each is fixed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Point as Dot
from shapely import Polygon

from packseq.geometry import Ring
from packseq.house.model import House
from packseq.scenario.model import Frame, Opening
from packseq.sitework.laps.anchors import (
    AnchorRule,
    StrappedStud,
    anchor_places,
)
from packseq.sitework.tape import Tape

HOLD_DOWN_MM = 100.0
"""A bracing wall's hold-down stands this far from each end of its frame: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Plate:
    """One unbroken length of a frame's bottom plate, as the tape along the frame reads it.

    Parameters
    ----------
    frame
        The frame.
    begins_mm, ends_mm
        Where it begins and ends: at the frame's ends and at doorways.
    fixings_mm
        Where it is fixed; None where the rule cannot be kept.
    hold_downs_mm
        The hold-downs on it, which have their own fixing.
    from_outside_mm
        How far in from the frame's outer face the fixings go, None for an internal frame.
    edge_mm
        How far that is from the nearest edge of the slab, None where no edge is near.
    unheld_mm
        Strapped trimming studs that no fixing and no hold-down is near enough to.
    """

    frame: str
    begins_mm: float
    ends_mm: float
    fixings_mm: tuple[float, ...] | None
    hold_downs_mm: tuple[float, ...]
    from_outside_mm: float | None
    edge_mm: float | None
    unheld_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class PlateChoices:
    """The rules for external and internal plates, and the frames that brace, with their hold-downs."""

    external: AnchorRule
    internal: AnchorRule
    hold_downs: frozenset[str] = frozenset()


def plates_of(house: House, tape: Tape, choices: PlateChoices) -> tuple[Plate, ...]:
    """Return the lengths of bottom plate of one frame on the slab, in the order of its tape.

    Studs at the sides of windows and doors of external frames count as strapped, as the default schedule of
    fixings has them (docs/fixings.md).
    """
    frame = tape.frame
    external = house.locations[frame.name] == "external"
    rule = choices.external if external else choices.internal
    hold_downs: tuple[float, ...] = ()
    if frame.name in choices.hold_downs:
        hold_downs = (HOLD_DOWN_MM, frame.length_mm - HOLD_DOWN_MM)
    studs = tuple(_strapped(tape)) if external else ()
    from_outside, edge = _across(house.scenario.slab, frame, rule) if external else (None, None)
    plates = []
    for begins, ends in _lengths(tape):
        own = tuple(place for place in hold_downs if begins <= place <= ends)
        here = [stud for stud in studs if begins <= stud.at_mm <= ends]
        places = anchor_places(
            ends - begins,
            rule,
            hold_downs=[place - begins for place in own],
            strapped=[StrappedStud(stud.at_mm - begins, stud.opening_beyond) for stud in here],
        )
        if places is not None:
            places = tuple(begins + place for place in places)
        unheld = tuple(stud.at_mm for stud in here if not stud.held_by((*(places or ()), *own)))
        plates.append(Plate(frame.name, begins, ends, places, own, from_outside, edge, unheld))
    return tuple(plates)


def doorways(frame: Frame) -> tuple[Opening, ...]:
    """Return the openings whose sill is the floor: the bottom plate is cut out there."""
    return tuple(opening for opening in frame.openings if opening.sill_mm == 0)


def sides_mm(tape: Tape, opening: Opening) -> tuple[float, float]:
    """Return the two sides of an opening as the tape along its frame reads them."""
    low, high = sorted(
        tape.from_end_1(place) for place in (opening.from_mm, opening.from_mm + opening.width_mm)
    )
    return low, high


def _lengths(tape: Tape) -> Iterator[tuple[float, float]]:
    begins = 0.0
    for low, high in sorted(sides_mm(tape, opening) for opening in doorways(tape.frame)):
        if low > begins:
            yield begins, low
        begins = max(begins, high)
    if begins < tape.frame.length_mm:
        yield begins, tape.frame.length_mm


def _strapped(tape: Tape) -> Iterator[StrappedStud]:
    for opening in tape.frame.openings:
        low, high = sides_mm(tape, opening)
        yield StrappedStud(low, opening_beyond=True)
        yield StrappedStud(high, opening_beyond=False)


def _across(slab: Ring, frame: Frame, rule: AnchorRule) -> tuple[float, float | None]:
    """Return how far in from the outer face a frame is fixed, and how far that is from the slab's edge.

    In the middle of the plate, or further in where the edge of the slab is nearer than the rule has it. No
    edge where the frame does not stand at one.
    """
    shape, middle = Polygon(slab), Dot(frame.middle)
    off_mm = float(middle.distance(shape.exterior))
    half_mm = frame.thickness_mm / 2
    if off_mm > frame.thickness_mm + rule.edge_mm:
        return half_mm, None
    face_mm = (off_mm if shape.covers(middle) else -off_mm) - half_mm
    from_outside = max(half_mm, rule.edge_mm - face_mm)
    return from_outside, from_outside + face_mm
