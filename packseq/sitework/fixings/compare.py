"""A schedule against the house, and what was delivered against the schedule."""

from __future__ import annotations

import difflib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from packseq.sitework.fixings.files import fixing_key
from packseq.sitework.fixings.model import Delivered, Function, Line, Need
from packseq.sitework.fixings.places import Places

Verdict = Literal["missing", "short", "enough", "over", "not on the schedule", "not counted"]


@dataclass(frozen=True, slots=True)
class Count:
    """One kind of fixing: how many the house takes and how many came; `delivered` None: nobody counted."""

    what: str
    needed: int
    delivered: int | None
    near: str | None = None

    @property
    def verdict(self) -> Verdict:
        """What the two numbers say."""
        if self.delivered is None:
            return "not counted"
        if not self.needed:
            return "not on the schedule"
        if not self.delivered:
            return "missing"
        if self.delivered == self.needed:
            return "enough"
        return "short" if self.delivered < self.needed else "over"


@dataclass(frozen=True, slots=True)
class Unscheduled:
    """Places that the published rules give a fixing of some function and the schedule does not."""

    function: Function
    places: tuple[str, ...]
    source: str


def scheduled_needs(lines: Iterable[Line], places: Places) -> tuple[Need, ...]:
    """Return what a schedule asks for at each of its places."""
    return tuple(
        Need(line.what, line.function, place.words, place.frames, count, f"row {line.row}")
        for line in lines
        for place in places[line.where]
        if (count := line.how_many * place.times)
    )


def unscheduled(needs: Iterable[Need], published: Iterable[Need]) -> tuple[Unscheduled, ...]:
    """Return where the published rules have a fixing and the schedule has none that does the same.

    A fixing scheduled for a whole frame counts at every join and opening of that frame.
    """
    covered = {(need.function, need.place) for need in needs}
    missing: defaultdict[tuple[Function, str], list[str]] = defaultdict(list)
    for need in published:
        names = (need.place, *need.frames)
        if not any((need.function, name) in covered for name in names):
            missing[need.function, need.source].append(need.place)
    return tuple(
        Unscheduled(function, tuple(places), source) for (function, source), places in missing.items()
    )


def counts(needs: Sequence[Need], delivered: Sequence[Delivered] | None) -> tuple[Count, ...]:
    """Return every kind of fixing that is needed or came, those needed first, in the order of the schedule.

    Parameters
    ----------
    needs
        What is needed where.
    delivered
        What came; None where nobody counted.
    """
    needed: dict[str, tuple[str, int]] = {}
    for need in needs:
        key = fixing_key(need.what)
        what, before = needed.get(key, (need.what, 0))
        needed[key] = (what, before + need.count)
    came = {fixing_key(each.what): each for each in delivered or ()}
    found = [
        Count(what, count, None if delivered is None else _came(came, key))
        for key, (what, count) in needed.items()
    ]
    for key, each in came.items():
        if key not in needed:
            near = difflib.get_close_matches(key, sorted(needed), n=1)
            found.append(Count(each.what, 0, each.count, needed[near[0]][0] if near else None))
    return tuple(found)


def _came(came: dict[str, Delivered], key: str) -> int:
    return came[key].count if key in came else 0
