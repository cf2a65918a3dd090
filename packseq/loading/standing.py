"""Which frame may be stood last of those that stand, asked of the rules that the check itself holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from packseq.check.ground import lines_covered
from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.geometry import rectangle
from packseq.house.model import LevelHouse
from packseq.loading.job import LoadJob, unstacked
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop, spot_stop
from packseq.scenario.model import Frame, Landing


def landing_stop(landing: Landing) -> Stop:
    """Return where the team picks up from a pack landed at a place; the first, where it has several."""
    return Stop(landing.level, landing.places[0].at)


def routes_of(job: LoadJob) -> Routes:
    """Return the routes from every landing place, used or not, and every spot of the scenario."""
    spots = job.scenario.spots.values()
    stops = [*map(landing_stop, job.landings.values()), *map(spot_stop, spots)]
    return build_routes(unstacked(job.house).scenario, stops)


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of one way: for each walk the sets across it, and sets that leave none."""

    open_unless: list[tuple[int, ...]] = field(default_factory=list)
    closed_by: list[int] = field(default_factory=list)


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
        self._order: dict[tuple[str, int], bool] = {}
        self._ways: dict[tuple[str, str], _Known] = {}
        self._backs: dict[tuple[str, str], _Known] = {}
        self._covered: dict[tuple[str, float, float], frozenset[str]] = {}
        self._touches = {name: self._set(house.touches[name]) for name in job.names}
        self._matters = {name: self._that_matters(name) for name in job.names}
        self._asks_for = {name: self._that_ask_for(name) for name in job.names}
        self._rings: dict[int, Mapping[str, int]] = {}

    @cached_property
    def everything(self) -> int:
        """The set of all frames."""
        return (1 << len(self.names)) - 1

    def without(self, standing: int, name: str) -> int:
        """Return a set less one frame."""
        return standing & ~self._bit[name]

    def landing(self, name: str) -> Landing:
        """Return a landing place by its name."""
        return self._job.landings[name]

    def last(self, standing: int) -> tuple[str, ...]:
        """Return the frames that may be the last stood of a set, and leave a set that can be gone on from."""
        found = self._last.get(standing)
        if found is None:
            found = self._last[standing] = tuple(self._may_be_last(standing))
        return found

    def has_way(self, name: str, landing: Landing, standing: int) -> bool:
        """Tell whether a frame can be carried from a pack to its line while the others of a set stand."""
        frame = self._job.scenario.frames[name]
        known = self._ways.setdefault((name, landing.name), _Known())
        way = (landing_stop(landing), frame_stop(frame), frame)
        return self._is_open(known, way, self.without(standing, name))

    def has_way_back(self, name: str, landing: Landing, standing: int) -> bool:
        """Tell whether the team gets from a line to a pack once all of a set stand."""
        known = self._backs.setdefault((name, landing.name), _Known())
        way = (frame_stop(self._job.scenario.frames[name]), landing_stop(landing), None)
        return self._is_open(known, way, standing)

    def _is_open(self, known: _Known, way: tuple[Stop, Stop, Frame | None], standing: int) -> bool:
        """Tell whether there is a way past a set, by what earlier answers tell where they do."""
        if any(not any(across & standing == across for across in each) for each in known.open_unless):
            return True
        if any(closed & standing == closed for closed in known.closed_by):
            return False
        stood = frozenset(name for name in self.names if standing & self._bit[name])
        there = self.routes.way(*way, stood)
        if there is None:
            known.closed_by.append(standing)
        else:
            known.open_unless.append(tuple(self._set(across) for across in there.across))
        return there is not None

    def shut_off_by(self, name: str, landing: Landing, before: Iterable[str]) -> frozenset[str] | None:
        """Return standing frames that leave a frame no way from a pack to its line; None if it has one."""
        frame, stood = self._job.scenario.frames[name], frozenset(before)
        way = (landing_stop(landing), frame_stop(frame), frame, stood)
        return None if self.routes.leg(*way) is not None else self.routes.closes(*way)

    def shut_off_from_spots(self, name: str, before: Iterable[str]) -> frozenset[str] | None:
        """Return standing frames that leave a frame no way from any spot that takes it; None if it has one.

        None too where the scenario tells no spots, as those proposed depend on the packs, and where frames
        may wait on packs.
        """
        frame, stood = self._job.scenario.frames[name], frozenset(before)
        spots = [spot for spot in self._job.scenario.spots.values() if spot.takes(frame)]
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
            frames = self._job.scenario.frames.values()
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

    def _set(self, names: Iterable[str]) -> int:
        """Return frames as a set."""
        return sum(self._bit[name] for name in names)

    def _members(self, standing: int) -> list[str]:
        return [name for name in self.names if standing & self._bit[name]]

    def _that_matters(self, name: str) -> int:
        """Return the frames of which the rules of order ask whether they stand when this one is stood.

        Those are the perimeter of its level, what it touches, and everything below.
        """
        here = self._job.house.level_of[name]
        below = [other for other in self.names if self._job.scenario.frames[other].level < here.level]
        return self._set({*here.perimeter, *below} - {name}) | self._touches[name] & ~self._bit[name]

    def _that_ask_for(self, name: str) -> tuple[str, ...]:
        """Return the frames of the same level for which it matters whether this one stands."""
        level = self._job.scenario.frames[name].level
        names = self._job.frames_of[level]
        return tuple(other for other in names if other != name and self._matters[other] & self._bit[name])

    def _may_be_last(self, standing: int) -> Iterator[str]:
        frames = self._job.scenario.frames
        members = self._members(standing)
        highest = max(frames[name].level for name in members)
        level = self._set(self._job.frames_of[highest]) & standing
        for name in members:
            before = self.without(standing, name)
            if (
                frames[name].level == highest
                and self._keeps_order(name, before)
                and self._spared(name, level & before, self._touches)
                and self._others_may_follow(name, before)
            ):
                yield name

    def _others_may_follow(self, name: str, before: int) -> bool:
        """Tell whether what is left of a level could itself have been stood.

        What the rules of order forbid a frame now, they forbid it with fewer standing too, but for the
        one that is stood first of all: that one may always follow.
        """
        here = self._job.house.level_of[name]
        first = here.stand_round(self._job.direction)[0]
        left = [other for other in self._asks_for[name] if before & self._bit[other] and other != first]
        if not all(self._keeps_order(other, self.without(before, other)) for other in left):
            return False
        if name not in here.perimeter or self._job.scenario.stand.lap != "both-ways":
            return True
        return self._spared(name, before & self._set(here.perimeter), self._ring(here))

    def _ring(self, here: LevelHouse) -> Mapping[str, int]:
        """Return, for each frame of a perimeter, the frames before and after it."""
        if here.level not in self._rings:
            ring = here.perimeter
            self._rings[here.level] = {
                name: self._set({ring[place - 1], ring[(place + 1) % len(ring)]})
                for place, name in enumerate(ring)
            }
        return self._rings[here.level]

    def _keeps_order(self, name: str, standing: int) -> bool:
        """Tell whether the rules of order let a frame be stood while a set stands."""
        key = (name, standing & self._matters[name])
        if key not in self._order:
            frame = self._job.scenario.frames[name]
            before = self._members(key[1])
            state = State({}, {}, tuple(before), frozenset(before))
            packs = self._setting.house.scenario.packs.values()
            heap = Heap("pack", next(pack.name for pack in packs if pack.level == frame.level))
            people = self._job.scenario.crew.team(frame.mass_kg)
            lift = Lift(self._setting, state, frame, heap, None, people, None)
            self._order[key] = next(broken_rules(lift, ORDER_RULES), None) is None
        return self._order[key]

    def _spared(self, name: str, members: int, beside: Mapping[str, int]) -> bool:
        """Tell whether a set that hangs together with a frame does so without it.

        It does where those beside the frame do, which is soon seen: they mostly share a room.
        """
        wanted = beside[name] & members
        reached = edge = wanted & -wanted
        while edge and wanted & ~reached:
            lowest = edge & -edge
            new = beside[self.names[lowest.bit_length() - 1]] & members & ~reached
            reached |= new
            edge = edge ^ lowest | new
        return not wanted & ~reached
