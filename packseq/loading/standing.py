"""Which frame may be stood last of those that stand, asked of the rules that the check itself holds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property

from packseq.check.ground import lines_covered
from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.geometry import rectangle
from packseq.loading.job import LoadJob, unstacked
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop, spot_stop
from packseq.scenario.model import Landing


def landing_stop(landing: Landing) -> Stop:
    """Return where the team picks up from a pack landed at a place; the first, where it has several."""
    return Stop(landing.level, landing.places[0].at)


def routes_of(job: LoadJob) -> Routes:
    """Return the routes from every landing place, used or not, and every spot of the scenario."""
    spots = job.scenario.spots.values()
    stops = [*map(landing_stop, job.landings.values()), *map(spot_stop, spots)]
    return build_routes(unstacked(job.house).scenario, stops)


class Standing:
    """Answers, for sets of standing frames, which of them may be the one stood last.

    A stand order taken back one frame at a time, each of them allowed here, keeps every rule of
    standing. Sets are whole numbers with a bit for each frame, in the order of `names`.
    """

    def __init__(self, job: LoadJob, routes: Routes) -> None:
        self._job = job
        self.routes = routes
        self.names = job.names
        self._bit = {name: 1 << place for place, name in enumerate(job.names)}
        house = unstacked(job.house)
        places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
        self._setting = Job(house, {}, places, job.direction, routes)
        self._last: dict[int, tuple[str, ...]] = {}
        self._ways: dict[tuple[str, str, int], bool] = {}
        self._covered: dict[tuple[str, float, float], frozenset[str]] = {}
        self._backs: dict[tuple[str, str, int], bool] = {}

    @cached_property
    def everything(self) -> int:
        """The set of all frames."""
        return (1 << len(self.names)) - 1

    def without(self, standing: int, name: str) -> int:
        """Return a set less one frame."""
        return standing & ~self._bit[name]

    def last(self, standing: int) -> tuple[str, ...]:
        """Return the frames that may be the last stood of a set, and leave a set that can be gone on from."""
        found = self._last.get(standing)
        if found is None:
            members = [name for name in self.names if standing & self._bit[name]]
            frames = self._job.scenario.frames
            highest = max(frames[name].level for name in members)
            level = [name for name in members if frames[name].level == highest]
            found = tuple(name for name in level if self._may_be_last(name, members, level))
            self._last[standing] = found
        return found

    def has_way(self, name: str, landing: Landing, standing: int) -> bool:
        """Tell whether a frame can be carried from a pack to its line while the others of a set stand."""
        key = (name, landing.name, standing)
        if key not in self._ways:
            frame = self._job.scenario.frames[name]
            before = frozenset(each for each in self.names if standing & self._bit[each] and each != name)
            leg = self.routes.leg(landing_stop(landing), frame_stop(frame), frame, before)
            self._ways[key] = leg is not None
        return self._ways[key]

    def shut_off_by(self, name: str, landing: Landing, before: Iterable[str]) -> frozenset[str] | None:
        """Return standing frames that leave a frame no way from a pack to its line; None if it has one."""
        frame, stood = self._job.scenario.frames[name], frozenset(before)
        way = (landing_stop(landing), frame_stop(frame), frame, stood)
        return None if self.routes.leg(*way) is not None else self.routes.closes(*way)

    def covered(self, landing: Landing, length_mm: float, width_mm: float) -> frozenset[str]:
        """Return the frames whose lines a pack of this size covers when it lies on its landing place."""
        key = (landing.name, length_mm, width_mm)
        if key not in self._covered:
            place = landing.places[0]
            ring = rectangle(place.at, place.bearing_deg, length_mm, width_mm)
            heap = Heap("pack", landing.name)
            frames = self._job.scenario.frames.values()
            self._covered[key] = lines_covered({heap: (landing.level, ring)}, frames)[heap]
        return self._covered[key]

    def has_way_back(self, name: str, landing: Landing, standing: int) -> bool:
        """Tell whether the team gets from a line to a pack once all of a set stand."""
        key = (name, landing.name, standing)
        if key not in self._backs:
            stood = frozenset(each for each in self.names if standing & self._bit[each])
            frame = self._job.scenario.frames[name]
            leg = self.routes.leg(frame_stop(frame), landing_stop(landing), None, stood)
            self._backs[key] = leg is not None
        return self._backs[key]

    def _may_be_last(self, name: str, members: list[str], level: list[str]) -> bool:
        before = [other for other in members if other != name]
        house = self._job.house
        here = house.level_of[name]
        return (
            self._keeps_order(name, before)
            and _hangs_together([other for other in level if other != name], house.touches)
            and (
                name not in here.perimeter or self._others_may_follow(before, here.internals, here.perimeter)
            )
        )

    def _others_may_follow(
        self, before: list[str], internals: tuple[str, ...], perimeter: tuple[str, ...]
    ) -> bool:
        """Tell whether what is left of a level could itself have been stood, as the perimeter tells."""
        left = set(before)
        inside = next((other for other in internals if other in left), None)
        if inside is not None and not self._keeps_order(
            inside, [other for other in before if other != inside]
        ):
            return False
        if self._job.scenario.stand.lap != "both-ways":
            return True
        ring = {
            one: (perimeter[place - 1], perimeter[(place + 1) % len(perimeter)])
            for place, one in enumerate(perimeter)
        }
        return _hangs_together([other for other in perimeter if other in left], ring)

    def _keeps_order(self, name: str, before: list[str]) -> bool:
        frame = self._job.scenario.frames[name]
        state = State({}, {}, tuple(before), frozenset(before))
        pack = next(
            pack.name for pack in self._setting.house.scenario.packs.values() if pack.level == frame.level
        )
        people = self._job.scenario.crew.team(frame.mass_kg)
        lift = Lift(self._setting, state, frame, Heap("pack", pack), None, people, None)
        return next(broken_rules(lift, ORDER_RULES), None) is None


def _hangs_together(names: Iterable[str], touches: Mapping[str, tuple[str, ...]]) -> bool:
    members = set(names)
    if not members:
        return True
    reached = {min(members)}
    edge = list(reached)
    while edge:
        edge = [other for one in edge for other in touches[one] if other in members and other not in reached]
        reached.update(edge)
    return len(reached) == len(members)
