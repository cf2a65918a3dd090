"""Where along a frame braces are wanted, given what holds it already."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from packseq.scenario.model import Frame
from packseq.sitework.braces.choices import BraceChoices

STUD_MM = 45.0
"""A brace is nailed to a stud: beside an opening, at an end, or where a stud stands."""

_NOISE_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Wanted:
    """A brace to place: best at `best_mm`, anywhere from `least_mm` to `most_mm` from end 1, and why."""

    best_mm: float
    least_mm: float
    most_mm: float
    why: str


def wanted_braces(
    frame: Frame, held_mm: Sequence[float], choices: BraceChoices, *, alone: bool
) -> tuple[Wanted, ...]:
    """Return the braces that a frame wants as it is stood, in order from end 1.

    Each end that nothing holds within `from_end_mm` gets one there (where that is so of both ends of a
    frame too short for two, one in the middle holds both); where what holds it then lies further apart than
    `spacing_mm`, more go in between, evenly. A frame that stands `alone` (the first, or one across a gap,
    or one with nothing beside it) never has fewer than two of its own.

    Parameters
    ----------
    frame
        The frame.
    held_mm
        Where return walls and the braces of the frames it carries on from hold it already, in mm from end 1;
        below 0 and past its length on those frames.
    choices
        The rule.
    alone
        Whether the frame must stand by its own braces.
    """
    length, reach = frame.length_mm, choices.from_end_mm
    near_held = any(place <= reach + _NOISE_MM for place in held_mm)
    far_held = any(place >= length - reach - _NOISE_MM for place in held_mm)
    if length <= 2 * reach and not (alone or near_held or far_held):
        return (Wanted(length / 2, 0.0, length, "short frame"),)
    inset, room = min(choices.inset_mm, length / 4), min(reach, length / 2)
    ends = []
    if alone or not near_held:
        ends.append(Wanted(inset, 0.0, room, "end"))
    if alone or not far_held:
        ends.append(Wanted(length - inset, length - room, length, "end"))
    points = sorted([*held_mm, *(end.best_mm for end in ends)])
    between = [
        _between(before, place, number, count)
        for before, place in pairwise(points)
        if (count := math.ceil((place - before) / choices.spacing_mm - _NOISE_MM)) > 1
        for number in range(1, count)
    ]
    return tuple(sorted((*ends, *between), key=lambda each: each.best_mm))


def _between(before: float, after: float, number: int, count: int) -> Wanted:
    part = (after - before) / count
    best = before + part * number
    return Wanted(best, best - part / 4, best + part / 4, "mid-wall")


def clear_places(frame: Frame, wanted: Wanted, step_mm: float = 150.0) -> tuple[float, ...]:
    """Return where a wanted brace can be nailed, the best place first: nowhere within an opening.

    Should openings take up all of its stretch, the nearest place beside one of them is returned.
    """
    steps = math.floor((wanted.most_mm - wanted.least_mm) / step_mm)
    places = {wanted.best_mm, *(wanted.least_mm + step_mm * number for number in range(steps + 1))}
    clear = [place for place in places if _clear(frame, place)]
    if not clear:
        beside = [
            place
            for opening in frame.openings
            for place in (opening.from_mm - STUD_MM, opening.from_mm + opening.width_mm + STUD_MM)
        ]
        held_in = [min(max(place, 0.0), frame.length_mm) for place in beside]
        clear = [min(held_in, key=lambda place: (abs(place - wanted.best_mm), place))]
    return tuple(sorted(clear, key=lambda place: (abs(place - wanted.best_mm), place)))


def _clear(frame: Frame, place: float) -> bool:
    return all(
        place <= opening.from_mm - STUD_MM / 2 or place >= opening.from_mm + opening.width_mm + STUD_MM / 2
        for opening in frame.openings
    )
