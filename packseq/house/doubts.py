"""What keeps every rule and still looks like a slip."""

from __future__ import annotations

from collections.abc import Iterator

from packseq.house.location import free_ends
from packseq.house.misses import misses_of
from packseq.house.model import House


def doubtful_ends(house: House) -> tuple[str, ...]:
    """Return a line for each end of a frame that just misses another, or runs past a corner.

    Neither breaks a rule: a nib may stop short of a wall, and a wing wall may run past one. So
    these are questions.
    """
    return tuple(line for level in house.scenario.levels for line in _doubtful(house, level))


def _doubtful(house: House, level: int) -> Iterator[str]:
    frames = {name: frame for name, frame in house.scenario.frames.items() if frame.level == level}
    across_gaps = {frozenset(gap) for gap in house.scenario.gaps}
    joins = [join for join in house.joins if set(join.frames) <= set(frames)]
    for frame, point in free_ends(frames, joins, house.scenario.join_gap_mm):
        end = 1 if point == frame.start else 2
        near = [
            miss
            for other in frames.values()
            if other is not frame and frozenset({frame.name, other.name}) not in across_gaps
            for miss in misses_of(frame, other)
            if miss.end == end
        ]
        if near:
            miss = min(near, key=lambda miss: (abs(miss.by_mm), miss.other.name))
            how = (
                f"{frame.name} and {miss.other.name} miss each other by {miss.by_mm:,.0f} mm"
                if miss.by_mm > 0
                else f"{frame.name} runs {-miss.by_mm:,.0f} mm past {miss.other.name}"
            )
            yield f"{how}; {miss.question}"
