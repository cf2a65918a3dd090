"""Ways in that are known already, so that not every one is looked for anew after every lift."""

from __future__ import annotations

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, frame_stop
from packseq.scenario.model import Frame


class KnownWays:
    """Tells whether a frame can be carried to its line, and keeps each way found.

    A way stays there until what blocks it stands: one found once serves every later moment in which
    nothing stands across it.
    """

    def __init__(self, routes: Routes) -> None:
        self._routes = routes
        self._across: dict[tuple[Stop, str], list[tuple[frozenset[str], ...]]] = {}

    def is_open(self, start: Stop, frame: Frame, standing: frozenset[str]) -> bool:
        """Tell whether a frame can be carried from a stop to its line past what stands."""
        known = self._across.setdefault((start, frame.name), [])
        if any(all(not blocking <= standing for blocking in across) for across in known):
            return True
        way = self._routes.way(start, frame_stop(frame), frame, standing)
        if way is None:
            return False
        known.append(way.across)
        return True
