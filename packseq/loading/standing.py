"""Which frame of a load may be stood last, and from which landing places it has a way in."""

from __future__ import annotations

from collections.abc import Iterable

from packseq.check.ground import lines_covered
from packseq.check.state import Heap
from packseq.geometry import rectangle
from packseq.loading.job import LoadJob, unstacked
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop, spot_stop
from packseq.scenario.model import Landing
from packseq.standup.takedown import TakeDown


def landing_stop(landing: Landing) -> Stop:
    """Return where the team picks up from a pack landed at a place; the first, where it has several."""
    return Stop(landing.level, landing.places[0].at)


def routes_of(job: LoadJob) -> Routes:
    """Return the routes from every landing place, used or not, and every spot of the scenario."""
    spots = job.scenario.spots.values()
    stops = [*map(landing_stop, job.landings.values()), *map(spot_stop, spots)]
    return build_routes(unstacked(job.house).scenario, stops)


class Standing(TakeDown):
    """Answers for one job what may be stood last, and what the landing places have to do with it."""

    def __init__(self, job: LoadJob, routes: Routes) -> None:
        super().__init__(unstacked(job.house), job.direction, routes)
        self._job = job
        self._covered: dict[tuple[str, float, float], frozenset[str]] = {}

    def landing(self, name: str) -> Landing:
        """Return a landing place by its name."""
        return self._job.landings[name]

    def shut_off_by(self, name: str, landing: Landing, before: Iterable[str]) -> frozenset[str] | None:
        """Return standing frames that leave a frame no way from a pack to its line; None if it has one."""
        frame, stood = self.scenario.frames[name], frozenset(before)
        way = (landing_stop(landing), frame_stop(frame), frame, stood)
        return None if self.routes.leg(*way) is not None else self.routes.closes(*way)

    def shut_off_from_spots(self, name: str, before: Iterable[str]) -> frozenset[str] | None:
        """Return standing frames that leave a frame no way from any spot that takes it; None if it has one.

        None too where the scenario tells no spots, as those proposed depend on the packs, and where frames
        may wait on packs.
        """
        frame, stood = self.scenario.frames[name], frozenset(before)
        spots = [spot for spot in self.scenario.spots.values() if spot.takes(frame)]
        ways = [(spot_stop(spot), frame_stop(frame), frame, stood) for spot in spots]
        holds = any(landing.holds for landing in self._job.landings.values())
        if holds or not ways or any(self.routes.leg(*way) is not None for way in ways):
            return None
        return frozenset().union(*(self.routes.closes(*way) for way in ways))

    def covered(self, landing: Landing, length_mm: float, width_mm: float) -> frozenset[str]:
        """Return the frames whose lines a pack of this size covers when it lies on its landing place."""
        key = (landing.name, length_mm, width_mm)
        if key not in self._covered:
            place = landing.places[0]
            ring = rectangle(place.at, place.bearing_deg, length_mm, width_mm)
            heap = Heap("pack", landing.name)
            frames = self.scenario.frames.values()
            self._covered[key] = lines_covered({heap: (landing.level, ring)}, frames)[heap]
        return self._covered[key]

    def covered_from(self, landing: Landing) -> dict[str, int]:
        """Return the lines on which some pack at a place lies, with the length in mm from which one does.

        The pack is taken as wide as the tallest frame of the level makes it.
        """
        names = self._job.frames_of[landing.level]
        wide = float(max(self._job.width_mm[name] for name in names))
        lengths = {self._job.length_mm[name] for name in names}
        return {
            name: long
            for long in sorted(lengths, reverse=True)
            for name in sorted(self.covered(landing, float(long), wide))
        }
