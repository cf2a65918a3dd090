"""From rows to frames on the plan: each row is placed once the frames it refers to are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from packseq.errors import Fault
from packseq.geometry import Point, strip
from packseq.scenario import limits
from packseq.scenario.names import label
from packseq.scenario.walkround.headings import STRAIGHT_ON, spoken
from packseq.scenario.walkround.meeting import (
    Bar,
    MeetingError,
    chosen_end,
    moved,
    off_side,
    reach_mm,
    round_corner,
)
from packseq.scenario.walkround.rows import LayoutRow

_MOST_GAP_MM = 30.0
_MOST_OVERLAP_MM = 5.0
"""A frame may stop this short of the frame it reaches, or run this far into it (docs/house.md, Joins)."""


@dataclass(frozen=True)
class Trace:
    """Where the frames are, by name, as far as they could be placed.

    `walks` are the perimeters: for each level the rows of its first walk, in order. A level that
    has other frames placed by coordinates is drawn rather than walked, and has none.
    """

    bars: Mapping[str, Bar]
    walks: tuple[tuple[LayoutRow, ...], ...]
    faults: tuple[Fault, ...]


def trace(rows: Sequence[LayoutRow]) -> Trace:
    """Place every frame; rows may refer to frames further down.

    The walk that begins the file is put with the outer faces of its frames at x = 0 and y = 0,
    unless its first row says where it begins.
    """
    walks = tuple(perimeter_walks(rows))
    faults = list(_homeless(rows))
    homeless = {fault.row for fault in faults}
    usable = [row for row in rows if row.sound and row.number not in homeless]
    bars: dict[str, Bar] = {}
    first = next((row for row in rows if row.before is None), None)
    if first is not None and first.start is None and walks and walks[0][0] is first:
        opening = [row for row in walks[0] if row.sound]
        bars, faults_of_walk = _placed(opening, {})
        faults += faults_of_walk
        bars = _at_origin(bars)
        done = set(bars) | {fault.frame for fault in faults_of_walk}
        usable = [row for row in usable if label(row.name) not in done]
    bars, faults_of_rest = _placed(usable, bars)
    faults += faults_of_rest
    faults += [fault for row in rows if (fault := _miss(row, bars)) is not None]
    drawn = {row.level for row in rows if row.start is not None and row not in {walk[0] for walk in walks}}
    return Trace(bars, tuple(walk for walk in walks if walk[0].level not in drawn), tuple(faults))


def perimeter_walks(rows: Sequence[LayoutRow]) -> Iterator[tuple[LayoutRow, ...]]:
    """Yield the first walk of each level: its first row that starts at no frame, and those that carry on."""
    seen: set[int] = set()
    for place, row in enumerate(rows):
        if row.before is None and row.level not in seen:
            seen.add(row.level)
            walk = [row]
            for following in rows[place + 1 :]:
                if not following.follows or following.at_mm is not None:
                    break
                walk.append(following)
            yield tuple(walk)


def placed(row: LayoutRow, bars: Mapping[str, Bar]) -> Bar:
    """Return the frame of a sound row, given the frames that it refers to.

    Raises
    ------
    MeetingError
        When the frames cannot meet as the row says.
    """
    thickness_mm = row.thickness_mm or 0.0
    if row.before is None:
        heading_deg = _first_heading(row)
        start = row.start or (0.0, 0.0)
    else:
        heading_deg, start = _begun(row, bars[row.before], thickness_mm)
    length_mm = row.length_mm
    if length_mm is None and row.to is not None:
        length_mm = reach_mm(start, heading_deg, thickness_mm, bars[row.to])
    if length_mm is None or length_mm < limits.LEAST_FRAME_MM:
        raise MeetingError(f"the frame would be only {length_mm or 0:,.0f} mm long", "to")
    return Bar(label(row.name), start, heading_deg, length_mm, thickness_mm)


def _begun(row: LayoutRow, base: Bar, thickness_mm: float) -> tuple[float, Point]:
    """Return the direction of a frame that starts at another, and where its centre line begins."""
    if row.at_mm is None:
        heading = row.heading or STRAIGHT_ON
        _, reached_deg = chosen_end(base, row.end, heading.after(base.heading_deg))
        heading_deg = heading.after(reached_deg)
        corner, reached_deg = chosen_end(base, row.end, heading_deg)
        start = round_corner(
            corner, (reached_deg, base.thickness_mm), (heading_deg, thickness_mm), row.through
        )
    else:
        if row.heading is None:
            raise MeetingError(f"not given: which way does it go off {base.name}?", "heading")
        heading_deg = row.heading.after(base.heading_deg)
        start = off_side(base, row.at_mm, row.end or "left", heading_deg, thickness_mm)
    ahead = Bar(row.name, start, heading_deg, row.gap_mm, thickness_mm)
    return heading_deg, ahead.finish


def _first_heading(row: LayoutRow) -> float:
    if row.heading is None or row.heading.turn:
        raise MeetingError("the first frame of a walk needs a compass heading: N, E, S, W", "heading")
    return row.heading.degrees


def _placed(rows: Sequence[LayoutRow], known: Mapping[str, Bar]) -> tuple[dict[str, Bar], list[Fault]]:
    """Place rows in whatever order they allow; those that wait for a frame that has a fault are left out."""
    bars = dict(known)
    faults: list[Fault] = []
    waiting = list(rows)
    while waiting:
        still = []
        for row in waiting:
            if any(name not in bars for name in _needs(row)):
                still.append(row)
                continue
            try:
                bar = placed(row, bars)
            except MeetingError as error:
                faults.append(row.fault(error.text, error.column))
            else:
                bars.setdefault(bar.name, bar)
        if len(still) == len(waiting):
            break
        waiting = still
    return bars, faults + list(_rings(waiting))


def _needs(row: LayoutRow) -> tuple[str, ...]:
    names = (row.before, row.to if row.length_mm is None else None)
    return tuple(name for name in names if name is not None)


def _rings(waiting: Sequence[LayoutRow]) -> Iterator[Fault]:
    """Tell which rows wait for one another; those that only wait for one of them are passed over."""
    ring = {label(row.name): row for row in waiting}
    while True:
        needed = {need for row in ring.values() for need in _needs(row)}
        hopeless = [
            name
            for name, row in ring.items()
            if name not in needed or not any(need in ring for need in _needs(row))
        ]
        if not hopeless:
            break
        for name in hopeless:
            del ring[name]
    for row in ring.values():
        need = next(name for name in _needs(row) if name in ring)
        text = f"waits for {need}, which waits for this frame; give one of them a length or another start"
        yield row.fault(text, "from" if need == row.before else "to")


def _homeless(rows: Sequence[LayoutRow]) -> Iterator[Fault]:
    """Tell which walks after the first begin nowhere."""
    roots = [row for row in rows if row.before is None]
    for row in roots[1:]:
        if row.sound and row.start is None:
            text = (
                f"where does level {row.level} begin? Give x_mm and y_mm of the start of "
                "this frame's centre line"
            )
            yield row.fault(text, "x_mm")


def _at_origin(bars: Mapping[str, Bar]) -> dict[str, Bar]:
    """Return frames shifted so that their outermost faces lie at x = 0 and y = 0."""
    if not bars:
        return {}
    corners = [point for bar in bars.values() for point in strip(bar.start, bar.finish, bar.thickness_mm)]
    left = min(x for x, _ in corners)
    bottom = min(y for _, y in corners)
    shift = ((-left, (1.0, 0.0)), (-bottom, (0.0, 1.0)))
    return {name: replace(bar, start=moved(bar.start, *shift)) for name, bar in bars.items()}


def _miss(row: LayoutRow, bars: Mapping[str, Bar]) -> Fault | None:
    """Tell when a frame's own length does not agree with the frame that it is said to reach."""
    own = bars.get(label(row.name))
    if row.length_mm is None or row.to is None or own is None or row.to not in bars:
        return None
    try:
        length_mm = reach_mm(own.start, own.heading_deg, own.thickness_mm, bars[row.to])
    except MeetingError as error:
        return row.fault(f"going {spoken(own.heading_deg)} {error.text}", error.column)
    short_mm = length_mm - own.length_mm
    if -_MOST_OVERLAP_MM <= short_mm <= _MOST_GAP_MM:
        return None
    text = (
        f"{own.name} and {row.to} miss each other by {abs(short_mm):,.0f} mm; "
        f"is {own.name} {length_mm:,.0f} rather than {own.length_mm:,.0f}?"
    )
    return row.fault(text, "length_mm")
