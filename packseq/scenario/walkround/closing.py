"""Whether the way round comes back to where it began."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from packseq.errors import Fault
from packseq.geometry import Point
from packseq.scenario.names import label
from packseq.scenario.walkround.blame import CLOSES_MM, closing_error, explanation, turns_once
from packseq.scenario.walkround.meeting import Bar, MeetingError, turn_deg
from packseq.scenario.walkround.rows import LayoutRow
from packseq.scenario.walkround.trace import Trace

_ONE_LINE_DEG = 1.0


def closing_faults(traced: Trace) -> Iterator[Fault]:
    """Yield a fault for each way round that does not close, with what is most likely wrong in it."""
    for walk in traced.walks:
        bars = [traced.bars[label(row.name)] for row in walk if label(row.name) in traced.bars]
        if len(bars) == len(walk) > 1 and not _on_one_line(bars):
            fault = _closing_fault(walk, bars)
            if fault is not None:
                yield fault


def _closing_fault(walk: Sequence[LayoutRow], bars: Sequence[Bar]) -> Fault | None:
    first, last = bars[0], bars[-1]
    try:
        error = closing_error(walk, bars)
    except MeetingError as unsaid:
        return walk[0].fault(f"where {last.name} meets {first.name}: {unsaid.text}", unsaid.column)
    if math.hypot(*error) <= CLOSES_MM:
        if turns_once(bars):
            return None
        text = f"the way round from {first.name} comes back to it, but not by turning right round once"
        return walk[0].fault(text, "heading")
    found = explanation(walk, bars, error)
    text = (
        f"{last.name} and {first.name} miss each other by {math.hypot(*error):,.0f} mm: the way round from "
        f"{first.name} ends {_offset(error)} of where it began; {found.text}"
    )
    return found.row.fault(text, found.column)


def _on_one_line(bars: Sequence[Bar]) -> bool:
    return all(abs(turn_deg(bars[0].heading_deg, bar.heading_deg)) < _ONE_LINE_DEG for bar in bars)


def _offset(error: Point) -> str:
    """Return an offset in words: "140 mm east and 20 mm north"."""
    words = []
    for value, names in zip(error, (("east", "west"), ("north", "south")), strict=True):
        if round(value):
            words.append(f"{abs(value):,.0f} mm {names[value < 0]}")
    return " and ".join(words)
