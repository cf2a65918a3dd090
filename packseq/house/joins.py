"""Where frames touch, how they meet there, and where they lie on top of one another."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from itertools import combinations
from typing import Literal, NamedTuple

from shapely import STRtree, get_coordinates

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.house.misses import likely_misses, questions
from packseq.house.model import Join, JoinKind
from packseq.house.shapes import along_mm, angle_between_deg, left_of_mm, parallel, polygon
from packseq.scenario.model import Frame

End = Literal["start", "end"]

_SLIVER_MM = 5.0
"""Across: a circle this wide in an overlap makes it a fault; less is drawing tolerance."""

_END_TOLERANCE_MM = 5.0
"""Added to the reach of a frame's end: drawing tolerance."""

_MOST_WIDTHS = 2.0
"""A frame that meets another at less than 30 degrees is measured along it as if at 30: 1 / sin 30 = 2."""

_CONTACT_MM = 1.0
"""Footprints are let out this much past half their gap, so that the contact has an area with a centre."""

_NOISE_MM = 1e-6


class _Contact(NamedTuple):
    """Two frames that touch, and the end at which each meets the other (None: along its side)."""

    first: Frame
    second: Frame
    at: Point
    gap_mm: float
    first_end: End | None
    second_end: End | None

    @property
    def inline(self) -> bool:
        """Whether the frames stand end to end in one direction."""
        return parallel(self.first, self.second) and _end_to_end(self.first, self.second)

    @property
    def stem(self) -> Frame | None:
        """The frame that ends against the other's side, if one does."""
        if parallel(self.first, self.second) or bool(self.first_end) == bool(self.second_end):
            return None
        return self.first if self.first_end else self.second

    @property
    def kind(self) -> JoinKind:
        """How the frames meet, crosses aside."""
        if self.inline:
            return "inline"
        if self.stem is not None:
            return "tee"
        return "corner" if self.first_end and not parallel(self.first, self.second) else "side by side"


def find_joins(frames: Sequence[Frame], join_gap_mm: float) -> tuple[Join, ...]:
    """Return every join among the frames of one level, sorted by the frames' names.

    Two frames join when the gap between their footprints is at most `join_gap_mm`
    (docs/rules.md, joined). The kind follows from where the contact's centre lies along
    each frame, see `contact_end`, and from the angle between the frames:

    - at an end of both, in one direction: inline; at an angle: corner;
    - at an end of one and along the side of the other: tee;
    - two tees opposite each other on one through frame, at the same place: cross, both of them;
    - in one direction but past each other rather than end to end: side by side.

    An end that is carried on inline by another frame counts as side: a wall that comes in
    at a joint of a run stands against the run's side, though near the ends of both its frames.
    """
    ordered = sorted(frames, key=lambda frame: frame.name)
    touching = _pairs_within(ordered, join_gap_mm + _NOISE_MM)
    contacts = _against_runs([_meet(first, second, join_gap_mm) for first, second in touching])
    crossing = _crossing(contacts)
    return tuple(
        Join(
            frames=(contact.first.name, contact.second.name),
            kind="cross" if number in crossing else contact.kind,
            at=contact.at,
            gap_mm=contact.gap_mm,
        )
        for number, contact in enumerate(contacts)
    )


def overlap_faults(frames: Sequence[Frame]) -> tuple[Fault, ...]:
    """Return a fault for each two frames of one level that lie on one another.

    An overlap counts when it holds a circle 5 mm across; each fault is placed at the
    later row of the two.
    """
    faults = []
    for first, second in _pairs_within(sorted(frames, key=lambda frame: frame.row), 0.0):
        shared = polygon(first).intersection(polygon(second))
        if shared.buffer(_NOISE_MM - _SLIVER_MM / 2).is_empty:
            continue
        corners = get_coordinates(shared.minimum_rotated_rectangle)
        long, short = sorted((math.dist(*corners[0:2]), math.dist(*corners[1:3])), reverse=True)
        text = f"{second.name} overlaps {first.name} (row {first.row}): {long:.0f} x {short:.0f} mm"
        shorter = [miss for miss in likely_misses(first, second) if miss.by_mm < 0]
        asked = f"; {questions(shorter)}" if shorter else ""
        faults.append(Fault(file=second.file, row=second.row, frame=second.name, text=text + asked))
    return tuple(faults)


def contact_end(frame: Frame, other: Frame, at: Point, join_gap_mm: float) -> End | None:
    """Return the end of `frame` at which it meets `other`, or None when that is along its side.

    The contact's centre `at` counts as at an end when it lies within half the other
    frame's thickness of that end, plus the join gap and 5 mm. The thickness is measured
    along `frame`: a frame that comes in at an angle takes up more of the side (thickness
    over the sine of the angle, but no more than twice the thickness, as two frames nearly
    in line meet face to face). So a butted corner, where the through frame is met half a
    thickness from its end, is end to end, and an internal wall one thickness further in is not.
    """
    widths = min(1.0 / max(math.sin(math.radians(angle_between_deg(frame, other))), _NOISE_MM), _MOST_WIDTHS)
    reach_mm = widths * other.thickness_mm / 2 + join_gap_mm + _END_TOLERANCE_MM
    from_start = along_mm(frame, at)
    from_end = frame.length_mm - from_start
    nearest: End = "start" if from_start <= from_end else "end"
    return nearest if min(from_start, from_end) <= reach_mm else None


def _pairs_within(frames: Sequence[Frame], distance_mm: float) -> list[tuple[Frame, Frame]]:
    """Return the pairs of frames at most that far apart, in the order of the sequence."""
    outlines = [polygon(frame) for frame in frames]
    found = STRtree(outlines).query(outlines, predicate="dwithin", distance=distance_mm)
    pairs = sorted((int(first), int(second)) for first, second in found.T if first < second)
    return [(frames[first], frames[second]) for first, second in pairs]


def _meet(first: Frame, second: Frame, join_gap_mm: float) -> _Contact:
    """Return how two touching frames meet."""
    outlines = polygon(first), polygon(second)
    gap_mm = outlines[0].distance(outlines[1])
    let_out = gap_mm / 2 + _CONTACT_MM
    shared = (
        outlines[0]
        .buffer(let_out, join_style="mitre")
        .intersection(outlines[1].buffer(let_out, join_style="mitre"))
    )
    at = (round(shared.centroid.x, 1), round(shared.centroid.y, 1))
    return _Contact(
        first,
        second,
        at,
        round(gap_mm, 1),
        first_end=contact_end(first, second, at, join_gap_mm),
        second_end=contact_end(second, first, at, join_gap_mm),
    )


def _against_runs(contacts: Sequence[_Contact]) -> list[_Contact]:
    """Return the contacts with each end that is carried on inline counted as side.

    Where both frames of a contact are carried on there, neither is the stem, and nothing changes.
    """
    carried_on = {
        (frame.name, end)
        for contact in contacts
        if contact.inline
        for frame, end in ((contact.first, contact.first_end), (contact.second, contact.second_end))
    }
    counted = []
    for contact in contacts:
        first_carried = (contact.first.name, contact.first_end) in carried_on
        second_carried = (contact.second.name, contact.second_end) in carried_on
        if contact.kind != "corner" or first_carried == second_carried:
            counted.append(contact)
        elif first_carried:
            counted.append(contact._replace(first_end=None))
        else:
            counted.append(contact._replace(second_end=None))
    return counted


def _end_to_end(first: Frame, second: Frame) -> bool:
    """Tell whether two parallel frames face each other with their ends.

    Their centre lines may be out of line by up to half the thinner frame: two thicknesses
    flush on one face still stand end to end, though not on one line, so not in one run.
    """
    thinner = min(first.thickness_mm, second.thickness_mm)
    out_of_line = max(abs(left_of_mm(end, first.start, first.end)) for end in (second.start, second.end))
    return out_of_line <= thinner / 2


def _crossing(contacts: Sequence[_Contact]) -> set[int]:
    """Return the positions of the tees that make a cross: two on one through frame at the same place.

    The same place: the two stems are no further apart along the through frame than half
    the thinner stem. They then come from opposite sides: from one side they would overlap.
    """
    tees: defaultdict[str, list[tuple[int, Frame, float]]] = defaultdict(list)
    for number, contact in enumerate(contacts):
        if contact.stem is not None:
            through = contact.second if contact.stem is contact.first else contact.first
            tees[through.name].append((number, contact.stem, along_mm(through, contact.at)))
    crossing: set[int] = set()
    for meeting in tees.values():
        for (one, stem, place), (other, facing, facing_place) in combinations(meeting, 2):
            if abs(place - facing_place) <= min(stem.thickness_mm, facing.thickness_mm) / 2:
                crossing |= {one, other}
    return crossing
