"""Whether the way round comes back to where it began, and which entry is most likely wrong if not."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.scenario import limits
from packseq.scenario.names import label
from packseq.scenario.walkround.headings import Heading, spoken
from packseq.scenario.walkround.meeting import Bar, MeetingError, is_square, moved, round_corner, turn_deg
from packseq.scenario.walkround.rows import LayoutRow, Through
from packseq.scenario.walkround.trace import Trace, placed

CLOSES_MM = 5.0
"""A way round that misses its beginning by no more than this is closed: drawing tolerance."""

_ONE_LINE_DEG = 1.0
_WHOLE_TURN_DEG = 360.0
_MOST_TRIED = 200
_QUARTERS = (90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True)
class Suspect:
    """A length that would explain a closing error, if it were `right_mm`; `rank` 0 is likeliest."""

    row: LayoutRow
    typed_mm: float
    right_mm: float
    rank: int


def closing_error(walk: Sequence[LayoutRow], bars: Iterable[Bar]) -> Point:
    """Return how far east and north of its beginning a walk ends, in mm, its last corner included.

    The sum of the courses' eastings and northings, as for any closed traverse. Of the rows only
    the first one's corner rule and gap are used.

    Raises
    ------
    MeetingError
        When the last corner needs a rule for which frame runs through, and there is none.
    """
    first, *_, last = courses = tuple(bars)
    row = walk[0]
    begins = round_corner(
        last.finish,
        (last.heading_deg, last.thickness_mm),
        (first.heading_deg, first.thickness_mm),
        row.through,
    )
    begins = moved(begins, (row.gap_mm, courses[0].along))
    return (begins[0] - first.start[0], begins[1] - first.start[1])


def closing_faults(traced: Trace) -> Iterator[Fault]:
    """Yield a fault for each way round that does not close, with what is most likely wrong in it."""
    for walk in traced.walks:
        bars = [traced.bars[label(row.name)] for row in walk if label(row.name) in traced.bars]
        if len(bars) == len(walk) > 1 and not _on_one_line(bars):
            fault = _closing_fault(walk, bars)
            if fault is not None:
                yield fault


def suspects(walk: Sequence[LayoutRow], bars: Sequence[Bar], error: Point) -> tuple[Suspect, ...]:
    """Return the lengths any one of which would explain a closing error, likeliest first.

    The frame whose length is wrong lies along the closing error: the old rule for finding the one
    bad course of a traverse (from memory). Which of several: the one whose typed figure is
    nearest to the right one by a slip of the finger (common practice, no source).
    """
    size_mm = math.hypot(*error)
    lengths = Counter(round(bar.length_mm) for bar in bars)
    found = []
    for row, bar in zip(walk, bars, strict=True):
        along_mm = error[0] * bar.along[0] + error[1] * bar.along[1]
        right_mm = bar.length_mm - along_mm
        if size_mm - abs(along_mm) > CLOSES_MM / 10 or row.length_mm is None:
            continue
        if limits.LEAST_FRAME_MM <= right_mm <= limits.MOST_FRAME_MM:
            rank = _slip(round(bar.length_mm), round(right_mm), lengths)
            found.append(Suspect(row, bar.length_mm, right_mm, rank))
    return tuple(sorted(found, key=lambda suspect: (suspect.rank, suspect.row.number)))


def _closing_fault(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Fault | None:
    first, last = bars[0], bars[-1]
    try:
        error = closing_error(walk, bars)
    except MeetingError as unsaid:
        return walk[0].fault(f"where {last.name} meets {first.name}: {unsaid.text}", unsaid.column)
    if math.hypot(*error) <= CLOSES_MM:
        return None if _turns_once(bars) else walk[0].fault(_crossing_text(first), "heading")
    text = (
        f"{last.name} and {first.name} miss each other by {math.hypot(*error):,.0f} mm: the way round "
        f"from {first.name} ends {_offset(error)} of where it began"
    )
    likeliest = suspects(walk, bars, error)
    if _turns_once(bars) and likeliest:
        return _length_fault(text, likeliest)
    for row, better in _other_explanations(walk, bars):
        return row.fault(f"{text}; {better}", "heading" if "going" in better else "through")
    return _two_lengths_fault(text, walk, bars, error)


def _length_fault(text: str, likeliest: Sequence[Suspect]) -> Fault:
    best, *others = likeliest
    named = ", ".join(label(other.row.name) for other in others[:4])
    rest = f" (if not, look at {named}, which lie the same way)" if others else ""
    return best.row.fault(f"{text}; {_question(best)}{rest}", "length_mm")


def _two_lengths_fault(text: str, walk: Sequence[LayoutRow], bars: Sequence[Bar], error: Point) -> Fault:
    """Return the fault of a way round that no single entry explains."""
    parts = ((error[0], 0.0), (0.0, error[1]))
    questions = [
        found[0] for part in parts if abs(sum(part)) > CLOSES_MM and (found := suspects(walk, bars, part))
    ]
    if len(questions) < len(parts) or not _turns_once(bars):
        return walk[-1].fault(f"{text}; no single entry explains it: is a frame missing, or are two wrong?")
    first, second = questions
    questions_asked = f"{_question(first)} And {_question(second)}"
    return first.row.fault(f"{text}; two entries are wrong: {questions_asked}", "length_mm")


def _question(suspect: Suspect) -> str:
    return f"is {label(suspect.row.name)} {suspect.right_mm:,.0f} rather than {suspect.typed_mm:,.0f}?"


def _other_explanations(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Iterator[tuple[LayoutRow, str]]:
    """Yield each single heading, and then each single corner, that would close the way round if changed."""
    if len(walk) > _MOST_TRIED:
        return
    for place, (row, bar) in enumerate(zip(walk, bars, strict=True)):
        for quarter in _QUARTERS:
            heading_deg = (bar.heading_deg + quarter) % _WHOLE_TURN_DEG
            if _would_close(_with(walk, bars, place, heading_deg=heading_deg)):
                better = f"is {bar.name} going {spoken(heading_deg)} rather than {spoken(bar.heading_deg)}?"
                yield row, better
    for place, (row, bar) in enumerate(zip(walk, bars, strict=True)):
        before = bars[place - 1]
        if not is_square(before.heading_deg, bar.heading_deg):
            continue
        choices: tuple[tuple[Through, str], ...] = (("this", bar.name), ("last", before.name))
        for through, name in choices:
            if _would_close(_with(walk, bars, place, through=through)):
                where = f"where {before.name} meets {bar.name}"
                yield row, f"does {name} run through {where}? Then write {through}"


def _with(
    walk: Sequence[LayoutRow],
    bars: Sequence[Bar],
    place: int,
    *,
    heading_deg: float | None = None,
    through: Through | None = None,
) -> tuple[LayoutRow, ...]:
    """Return a walk with one heading or one corner changed and every other as it came out."""
    rows: list[LayoutRow] = []
    for row, bar in zip(walk, bars, strict=True):
        changed = len(rows) == place
        rows.append(
            replace(
                row,
                heading=Heading(heading_deg if changed and heading_deg is not None else bar.heading_deg),
                through=through if changed and through is not None else row.through,
                length_mm=bar.length_mm,
                end=None,
            )
        )
    return tuple(rows)


def _would_close(walk: Sequence[LayoutRow]) -> bool:
    bars: dict[str, Bar] = {}
    try:
        for row in walk:
            bar = placed(row, bars)
            bars[bar.name] = bar
        error = closing_error(walk, bars.values())
    except MeetingError:
        return False
    return math.hypot(*error) <= CLOSES_MM and _turns_once(tuple(bars.values()))


def _turns_once(bars: Sequence[Bar]) -> bool:
    """Tell whether a walk turns right round once, either way, as the outline of a house does."""
    turns = (turn_deg(before.heading_deg, bar.heading_deg) for before, bar in _neighbours(bars))
    return abs(abs(math.fsum(turns)) - _WHOLE_TURN_DEG) < _ONE_LINE_DEG


def _neighbours(bars: Sequence[Bar]) -> Iterator[tuple[Bar, Bar]]:
    return zip((*bars[-1:], *bars[:-1]), bars, strict=True)


def _on_one_line(bars: Sequence[Bar]) -> bool:
    return all(abs(turn_deg(bars[0].heading_deg, bar.heading_deg)) < _ONE_LINE_DEG for bar in bars)


def _crossing_text(first: Bar) -> str:
    return f"the way round from {first.name} comes back to it, but crosses itself on the way"


def _offset(error: Point) -> str:
    """Return an offset in words: "140 mm east and 20 mm north"."""
    words = []
    for value, names in zip(error, (("east", "west"), ("north", "south")), strict=True):
        if round(value):
            words.append(f"{abs(value):,.0f} mm {names[value < 0]}")
    return " and ".join(words)


def _slip(typed: int, right: int, lengths: Counter[int]) -> int:
    """Return which slip types one figure in place of another: 0 two digits swapped, up to 4 none known."""
    wrote, meant = str(typed), str(right)
    if len(wrote) == len(meant):
        differing = [place for place, pair in enumerate(zip(wrote, meant, strict=True)) if pair[0] != pair[1]]
        if len(differing) == 2 and sorted(wrote) == sorted(meant):  # noqa: PLR2004 (a swap)
            return 0
        if len(differing) == 1:
            return 1
    longer, shorter = sorted((wrote, meant), key=len, reverse=True)
    if any(longer[:place] + longer[place + 1 :] == shorter for place in range(len(longer))):
        return 2
    return 3 if lengths[right] else 4
