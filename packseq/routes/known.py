"""Ways in that are known already, so that not every one is looked for anew after every lift."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from packseq.routes.values import Load, Stop, Way

FindWay = Callable[[Stop, Stop, Load, frozenset[str]], Way | None]


@dataclass(frozen=True, slots=True)
class _Answers:
    """What lies across each way found between two stops, and what stood whenever there was none."""

    across: list[tuple[frozenset[str], ...]] = field(default_factory=list)
    shut: list[frozenset[str]] = field(default_factory=list)


class KnownWays:
    """Tells whether there is a way from one stop to another, and keeps each answer.

    A way stays there until what blocks it stands: one found once serves every later moment in which
    nothing stands across it. And frames that leave no way leave none whatever else stands.
    """

    def __init__(self, find: FindWay) -> None:
        self._find = find
        self._known: defaultdict[tuple[Stop, Stop, Load], _Answers] = defaultdict(_Answers)

    def is_open(self, start: Stop, end: Stop, load: Load, standing: frozenset[str]) -> bool:
        """Tell whether a load can be carried from a stop to another past what stands."""
        known = self._known[start, end, load]
        for across in known.across:
            if not any(map(standing.issuperset, across)):
                return True
        if any(map(standing.issuperset, known.shut)):
            return False
        way = self._find(start, end, load, standing)
        if way is None:
            known.shut.append(standing)
        else:
            known.across.append(way.across)
        return way is not None
