"""Which entry is most likely wrong when the way round does not close."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.names import label
from packseq.scenario.walkround.headings import Heading, spoken
from packseq.scenario.walkround.meeting import Bar, MeetingError, is_square, moved, round_corner, turn_deg
from packseq.scenario.walkround.rows import CORNER_WORDS, LayoutRow, Through
from packseq.scenario.walkround.trace import placed

CLOSES_MM = 5.0
"""A way round that misses its beginning by no more than this is closed: drawing tolerance."""

_ONE_LINE_MM = 0.5
_WHOLE_TURN_DEG = 360.0
_MOST_TURN_DEG = 175.0
_NOISE_DEG = 0.01
_QUARTERS = (90.0, 180.0, 270.0)
_MOST_FRAMES_TRIED = 60
"""Headings and corners are tried out one by one up to so many frames in a perimeter."""

_MOST_CORNERS = 8
_MOST_THICKNESSES = 4
"""A stretch of up to so many corners is tried, where the miss is no more than so many thicknesses."""

_MOST_CHANGE_MM = 1500.0
_MOST_ASKED, _MOST_NAMED = 3, 4
"""Equally likely lengths that are asked for, and others that are named."""

_ROUND_MM = (5, 10, 50, 100, 500, 1000)


@dataclass(frozen=True, slots=True)
class Explanation:
    """What would make the way round close, as a question, and the cell to look at."""

    row: LayoutRow
    text: str
    column: str | None


@dataclass(frozen=True, slots=True)
class Suspect:
    """A length that alone would explain a closing error, if it were `right_mm`; the score says how likely."""

    row: LayoutRow
    typed_mm: float
    right_mm: float
    score: int

    @property
    def question(self) -> str:
        """The suspicion as a question."""
        return f"is {label(self.row.name)} {self.right_mm:,.0f} rather than {self.typed_mm:,.0f}?"


def closing_error(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Point:
    """Return how far east and north of its beginning a walk ends, in mm, its last corner included.

    The sum of the courses' eastings and northings, as for any closed traverse. Of the rows only
    the first one's corner rule and gap are used.

    Raises
    ------
    MeetingError
        When nothing says which frame runs through at the last corner.
    """
    first, last = bars[0], bars[-1]
    begins = round_corner(
        last.finish,
        (last.heading_deg, last.thickness_mm),
        (first.heading_deg, first.thickness_mm),
        walk[0].through,
    )
    begins = moved(begins, (walk[0].gap_mm, first.along))
    return (begins[0] - first.start[0], begins[1] - first.start[1])


def turns_once(bars: Sequence[Bar]) -> bool:
    """Tell whether a walk turns right round once, either way, as the outline of a house does."""
    before = (*bars[-1:], *bars[:-1])
    turns = [turn_deg(one.heading_deg, other.heading_deg) for one, other in zip(before, bars, strict=True)]
    if any(abs(turn) > _MOST_TURN_DEG for turn in turns):
        return False
    return abs(abs(math.fsum(turns)) - _WHOLE_TURN_DEG) < _NOISE_DEG


def explanation(walk: Sequence[LayoutRow], bars: Sequence[Bar], error: Point) -> Explanation:
    """Return what most likely went wrong in a walk that misses its beginning by `error`.

    One heading or one stretch of corners that would close it exactly is a strong sign; a length
    that would can nearly always be found, so lengths come last.
    """
    if len(walk) <= _MOST_FRAMES_TRIED:
        turned = tuple(_headings(walk, bars))
        if turned:
            return Explanation(turned[0].row, " Or ".join(one.text for one in turned[:3]), "heading")
        if math.hypot(*error) <= _MOST_THICKNESSES * max(bar.thickness_mm for bar in bars):
            for cornered in _corners(walk, bars):
                return cornered
    if turns_once(bars):
        long_or_short = _lengths(walk, bars, error)
        if long_or_short is not None:
            return long_or_short
    text = "no single entry explains it: is a frame missing, or are several entries wrong?"
    return Explanation(walk[-1], text, None)


def suspects(walk: Sequence[LayoutRow], bars: Sequence[Bar], error: Point) -> tuple[Suspect, ...]:
    """Return the lengths any one of which would explain a closing error, likeliest first.

    The frame whose length is wrong lies along the closing error: the old rule for finding the one
    bad course of a traverse (from memory). Which of several is told by slips of the finger: two
    digits swapped, one wrong, one too many or too few; by the right length being rounder, or that
    of another frame too (common practice, no source).
    """
    size_mm = math.hypot(*error)
    lengths = Counter(round(bar.length_mm) for bar in bars)
    found = []
    for row, bar in zip(walk, bars, strict=True):
        along_mm = error[0] * bar.along[0] + error[1] * bar.along[1]
        right_mm = bar.length_mm - along_mm
        if size_mm - abs(along_mm) > _ONE_LINE_MM or row.length_mm is None:
            continue
        if limits.LEAST_FRAME_MM <= right_mm <= limits.MOST_FRAME_MM:
            score = _score(round(bar.length_mm), round(right_mm), lengths)
            found.append(Suspect(row, bar.length_mm, right_mm, score))
    return tuple(sorted(found, key=lambda suspect: (-suspect.score, suspect.row.number)))


def _lengths(walk: Sequence[LayoutRow], bars: Sequence[Bar], error: Point) -> Explanation | None:
    """Return the one length that explains the error, or else one for its easting and one for its northing."""
    likeliest = suspects(walk, bars, error)
    if likeliest:
        best = likeliest[0]
        asked = [one for one in likeliest if one.score == best.score][:_MOST_ASKED]
        others = [label(one.row.name) for one in likeliest if one not in asked][:_MOST_NAMED]
        rest = f" (others that lie the same way: {', '.join(others)})" if others else ""
        text = " Or ".join(one.question for one in asked) + rest
        return Explanation(best.row, text, "length_mm")
    parts = [suspects(walk, bars, part) for part in ((error[0], 0.0), (0.0, error[1]))]
    pair = [part[0] for part in parts if part]
    if len(pair) < len(parts) or any(abs(one.right_mm - one.typed_mm) > _MOST_CHANGE_MM for one in pair):
        return None
    text = f"two lengths are wrong: {pair[0].question} And {pair[1].question}"
    return Explanation(pair[0].row, text, "length_mm")


def _headings(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Iterator[Explanation]:
    """Yield each single heading that would close the way round if it were another."""
    for place, (row, bar) in enumerate(zip(walk, bars, strict=True)):
        for quarter in _QUARTERS:
            heading_deg = (bar.heading_deg + quarter) % _WHOLE_TURN_DEG
            if _would_close(_again(walk, bars, heading=(place, heading_deg))):
                text = f"is {bar.name} going {spoken(heading_deg)} rather than {spoken(bar.heading_deg)}?"
                yield Explanation(row, text, "heading")


def _corners(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Iterator[Explanation]:
    """Yield each stretch of corners, the shortest first, that would close the way round by another rule."""
    square = [
        place for place, bar in enumerate(bars) if is_square(bars[place - 1].heading_deg, bar.heading_deg)
    ]
    for count in range(1, min(len(square), _MOST_CORNERS + 1)):
        for begin in range(len(square) - count + 1):
            stretch = square[begin : begin + count]
            for through in CORNER_WORDS:
                if _would_close(_again(walk, bars, corners=(stretch, through))):
                    names = [f"{bars[place - 1].name} and {bars[place].name}" for place in stretch]
                    where = names[0] if count == 1 else f"{names[0]} to that of {names[-1]}"
                    text = (
                        f"which frame runs through? It closes with {through} at the corner of {where}"
                        " (if that is right already, a length is wrong by as much)"
                    )
                    yield Explanation(walk[stretch[0]], text, "through")


def _again(
    walk: Sequence[LayoutRow],
    bars: Sequence[Bar],
    *,
    heading: tuple[int, float] | None = None,
    corners: tuple[Sequence[int], Through] = ((), "this"),
) -> tuple[LayoutRow, ...]:
    """Return a walk as it came out, with one heading or the rule of some corners changed."""
    rows: list[LayoutRow] = []
    for place, (row, bar) in enumerate(zip(walk, bars, strict=True)):
        heading_deg = heading[1] if heading is not None and heading[0] == place else bar.heading_deg
        through = corners[1] if place in corners[0] else row.through
        rows.append(
            replace(row, heading=Heading(heading_deg), through=through, length_mm=bar.length_mm, end=None)
        )
    return tuple(rows)


def _would_close(walk: Sequence[LayoutRow]) -> bool:
    bars: dict[str, Bar] = {}
    try:
        for row in walk:
            bar = placed(row, bars)
            bars[bar.name] = bar
        error = closing_error(walk, tuple(bars.values()))
    except MeetingError:
        return False
    return math.hypot(*error) <= CLOSES_MM and turns_once(tuple(bars.values()))


def _score(typed: int, right: int, lengths: Counter[int]) -> int:
    """Return how much speaks for one figure having been typed in place of another."""
    rounder = max(-2, min(2, _roundness(right) - _roundness(typed)))
    shared = 2 * (lengths[right] > 0) - 2 * (lengths[typed] > 1)
    return _slip(str(typed), str(right)) + rounder + shared


def _slip(wrote: str, meant: str) -> int:
    """Return 3 for two digits swapped, 2 for one wrong, too many or too few, 0 for no such slip."""
    if len(wrote) == len(meant):
        differing = [one for one, other in zip(wrote, meant, strict=True) if one != other]
        if len(differing) == 1:
            return 2
        return 3 if len(differing) == 2 and sorted(wrote) == sorted(meant) else 0  # noqa: PLR2004 (a swap)
    longer, shorter = sorted((wrote, meant), key=len, reverse=True)
    return 2 * any(longer[:place] + longer[place + 1 :] == shorter for place in range(len(longer)))


def _roundness(length: int) -> int:
    return sum(length % step == 0 for step in _ROUND_MM)
