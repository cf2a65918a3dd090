"""From frames on the plan back to a walk round the house: layout.csv."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from packseq.entry.tables import LAYOUT_COLUMNS, Cell, Grid
from packseq.geometry import Point
from packseq.house.model import House
from packseq.scenario.files import LAYOUT
from packseq.scenario.model import Frame
from packseq.scenario.tables import read_table
from packseq.scenario.walkround.entered import read_layout
from packseq.scenario.walkround.headings import unit, written
from packseq.scenario.walkround.meeting import Bar, MeetingError, off_side, round_corner
from packseq.scenario.walkround.rows import CORNER_WORDS, LAYOUT_SHAPE, End, Through

_SAME_MM = 0.001
"""A frame that comes out this near its place has come out right."""

_LONGEST_GAP_MM = 8000.0


@dataclass(frozen=True, slots=True)
class Link:
    """How a frame starts at another: at its end, or off its side; `words` are the corner rules that do it."""

    base: str
    words: tuple[Through, ...] = ()
    end: End | None = None
    at_mm: float | None = None
    gap_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class WalkedBack:
    """A layout.csv that gives the same frames, and the frames that it had to place by coordinates."""

    grid: Grid
    by_coordinates: tuple[str, ...]


def walk_back(house: House) -> WalkedBack:
    """Return a layout.csv that gives the frames of a house, each walked from its end 1 to its end 2.

    A frame that starts at no other one is placed by coordinates, and so are some or all of a
    perimeter that is not walked one way round in the order of its rows.
    """
    frames = tuple(house.scenario.frames.values())
    bars = {frame.name: _bar(frame) for frame in frames}
    links = _links(house, bars)
    opened = {name: link for name, link in links.items() if name not in _seconds(house)}
    for placing in (_Placing(links, at_origin=True), _Placing(links), _Placing(opened), _Placing({})):
        grid = Grid(LAYOUT, LAYOUT_COLUMNS, tuple(_rows(house, bars, placing)))
        if _gives(grid, frames):
            break
    x_mm = LAYOUT_COLUMNS.index("x_mm")
    return WalkedBack(grid, tuple(str(row[0]) for row in grid.rows if row[x_mm] is not None))


@dataclass(frozen=True, slots=True)
class _Placing:
    """How frames are to be placed: by links as far as there are any, else by coordinates.

    `at_origin` leaves out where the first frame lies, when the outer faces are at x = 0 and y = 0.
    """

    links: Mapping[str, Link]
    at_origin: bool = False


def _seconds(house: House) -> set[str]:
    """Return the second frame of each level: with it on coordinates the way round need not close."""
    names: dict[int, list[str]] = {}
    for frame in house.scenario.frames.values():
        names.setdefault(frame.level, []).append(frame.name)
    return {name for level in names.values() for name in level[1:2]}


def _bar(frame: Frame) -> Bar:
    return Bar(
        frame.name, frame.start, round(frame.bearing_deg, 9) % 360.0, frame.length_mm, frame.thickness_mm
    )


def _gives(grid: Grid, frames: Sequence[Frame]) -> bool:
    """Tell whether a layout is read without fault and gives each frame its place, to a thousandth of a mm."""
    rows, faults = read_layout(read_table(grid.csv_text(), LAYOUT_SHAPE))
    return not faults and all(
        row.start is not None
        and row.end is not None
        and math.dist(row.start, frame.start) < _SAME_MM
        and math.dist(row.end, frame.end) < _SAME_MM
        for row, frame in zip(rows, frames, strict=True)
    )


def _links(house: House, bars: Mapping[str, Bar]) -> dict[str, Link]:
    """Return where each frame starts that starts at another; no two frames wait for each other."""
    links: dict[str, Link] = {}
    resolved: set[str] = set()
    for level in house.levels:
        names = [name for name, frame in house.scenario.frames.items() if frame.level == level.level]
        outside = [name for name in names if house.locations[name] == "external"]
        inside = [name for name in names if house.locations[name] == "internal"]
        links |= _walk_links(outside, bars)
        resolved |= set(outside)
        while inside:
            found = {name: link for name in inside if (link := _start_at(name, bars, resolved & set(names)))}
            links |= found
            # Where nothing starts at what is known, one more frame is placed by coordinates.
            resolved |= set(found) or {inside[0]}
            inside = [name for name in inside if name not in resolved]
    return links


def _walk_links(outside: Sequence[str], bars: Mapping[str, Bar]) -> Iterator[tuple[str, Link]]:
    """Yield how each external frame carries on from the one before, the first from the last."""
    for before, name in zip((*outside[-1:], *outside[:-1]), outside, strict=True):
        link = _carries_on(bars[name], bars[before], "finish") if before != name else None
        if link is not None:
            yield name, link


def _start_at(name: str, bars: Mapping[str, Bar], known: Iterable[str]) -> Link | None:
    """Return how a frame starts at one of those whose place is known, or None."""
    near = set(known)
    bases = [base for base in bars.values() if base.name in near and _near(bars[name], base)]
    ends: tuple[End, ...] = ("finish", "start")
    for base in bases:
        for end in ends:
            link = _carries_on(bars[name], base, end)
            if link is not None and not link.gap_mm:
                return link
    return next((link for base in bases if (link := _off(bars[name], base)) is not None), None)


def _near(bar: Bar, base: Bar) -> bool:
    """Tell whether a frame starts so near to another that it can start at it."""
    reach_mm = bar.thickness_mm + base.thickness_mm
    east, north = bar.start[0] - base.start[0], bar.start[1] - base.start[1]
    along_mm = east * base.along[0] + north * base.along[1]
    across_mm = abs(north * base.along[0] - east * base.along[1])
    return across_mm <= reach_mm and -reach_mm <= along_mm <= base.length_mm + reach_mm


def _carries_on(bar: Bar, base: Bar, end: End) -> Link | None:
    """Return how a frame carries on from the end of another, perhaps after a gap in line, or None."""
    corner, reached_deg = base.finish, base.heading_deg
    if end == "start":
        corner, reached_deg = base.start, (base.heading_deg + 180.0) % 360.0
    right: dict[Through, float] = {}
    for through in CORNER_WORDS:
        begins = round_corner(
            corner, (reached_deg, base.thickness_mm), (bar.heading_deg, bar.thickness_mm), through
        )
        gap_mm = _ahead_mm(begins, bar.start, bar.heading_deg)
        if gap_mm is not None:
            right[through] = gap_mm
    if not right:
        return None
    gap_mm = min(right.values())
    words = tuple(word for word, gap in right.items() if gap == gap_mm)
    return Link(base.name, words, None if end == "finish" else end, gap_mm=gap_mm)


def _ahead_mm(begins: Point, start: Point, heading_deg: float) -> float | None:
    """Return how far a start lies straight ahead of a point, or None where it lies elsewhere."""
    if math.dist(begins, start) < _SAME_MM / 2:
        return 0.0
    along = unit(heading_deg)
    gap_mm = (start[0] - begins[0]) * along[0] + (start[1] - begins[1]) * along[1]
    ahead = (begins[0] + gap_mm * along[0], begins[1] + gap_mm * along[1])
    straight = math.dist(ahead, start) < _SAME_MM / 2
    return round(gap_mm, 3) if straight and 0 < gap_mm <= _LONGEST_GAP_MM else None


def _off(bar: Bar, base: Bar) -> Link | None:
    """Return how a frame goes off the side of another, measured from its left end, or None."""
    try:
        flush = off_side(base, 0.0, "left", bar.heading_deg, bar.thickness_mm)
    except MeetingError:
        return None
    at_mm = math.dist(flush, bar.start)
    for along_mm in (at_mm, -at_mm):
        try:
            start = off_side(base, round(along_mm, 3), "left", bar.heading_deg, bar.thickness_mm)
        except MeetingError:
            continue
        if math.dist(start, bar.start) < _SAME_MM / 2:
            return Link(base.name, at_mm=round(along_mm, 3))
    return None


def _rows(house: House, bars: Mapping[str, Bar], placing: _Placing) -> Iterator[tuple[Cell, ...]]:
    """Yield the rows in the order of the frames; what is as in the row above is left blank."""
    above: Frame | None = None
    through: Through | None = None
    for frame in house.scenario.frames.values():
        link = placing.links.get(frame.name)
        begins = above is None or above.level != frame.level
        cells: dict[str, Cell] = {
            "frame": frame.name,
            "heading": written(bars[frame.name].heading_deg),
            "length_mm": frame.length_mm,
            "location": frame.location,
            "mass_kg": None if frame.mass_is_estimate else frame.mass_kg,
        }
        if link is None or begins:
            if not (above is None and placing.at_origin):
                cells["x_mm"], cells["y_mm"] = frame.start
        elif above is None or link.base != above.name or _leaves_walk(house, above, frame):
            cells["from"] = link.base
        if link is not None:
            # In the first row of a walk this tells of its last corner, and of a gap there.
            if link.words and through not in link.words:
                through = link.words[0]
                cells["through"] = through
            cells["gap_mm"] = link.gap_mm or None
            cells["end"], cells["at_mm"] = link.end, link.at_mm
        for column, value, before in (
            ("height_mm", frame.height_mm, above and above.height_mm),
            ("thickness_mm", frame.thickness_mm, above and above.thickness_mm),
            ("level", frame.level, above.level if above else 1),
        ):
            cells[column] = value if value != before else None
        yield tuple(cells.get(column) for column in LAYOUT_COLUMNS)
        above = frame


def _leaves_walk(house: House, above: Frame, frame: Frame) -> bool:
    """Tell whether the way round ends between two rows: what carries on from there is no part of it."""
    return house.locations[above.name] == "external" and house.locations[frame.name] == "internal"
