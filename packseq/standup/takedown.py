"""Which frame may be stood last of those that stand, asked of the rules that the check itself holds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from packseq.check.job import Job, Lift
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.house.model import House, LevelHouse
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes
from packseq.routes.values import Stop, frame_stop
from packseq.scenario.model import Frame, Scenario


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of one way: for each walk the sets across it, and sets that leave none."""

    open_unless: list[tuple[int, ...]] = field(default_factory=list)
    closed_by: list[int] = field(default_factory=list)


class TakeDown:
    """Takes a house down frame by frame in thought, in one direction of standing.

    A stand order taken back one frame at a time, each of them allowed here, keeps every rule of order.
    Sets are whole numbers with a bit for each frame, in the order of `names`. The packs of the house make
    no difference.
    """

    def __init__(self, house: House, direction: LapDirection, routes: Routes) -> None:
        scenario = house.scenario
        self.house = house
        self.direction = direction
        self.routes = routes
        self.names = tuple(scenario.frames)
        self._bit = {name: 1 << place for place, name in enumerate(self.names)}
        places = {name: pack.places[0] for name, pack in scenario.packs.items()}
        self._setting = Job(house, {}, places, direction, routes)
        self._heap = {pack.level: Heap("pack", pack.name) for pack in scenario.packs.values()}
        self._on_level = {
            level: tuple(name for name in self.names if scenario.frames[name].level == level)
            for level in scenario.levels
        }
        self._last: dict[int, tuple[str, ...]] = {}
        self._order: dict[tuple[str, int], bool] = {}
        self._ways: dict[tuple[str, Stop], _Known] = {}
        self._backs: dict[tuple[str, Stop], _Known] = {}
        self._touches = {name: self.set_of(house.touches[name]) for name in self.names}
        self._matters = {name: self._that_matters(name) for name in self.names}
        self._asks_for = {name: self._that_ask_for(name) for name in self.names}
        self._rings: dict[int, Mapping[str, int]] = {}

    @property
    def scenario(self) -> Scenario:
        """The scenario that the house was derived from."""
        return self.house.scenario

    @cached_property
    def everything(self) -> int:
        """The set of all frames."""
        return (1 << len(self.names)) - 1

    def set_of(self, names: Iterable[str]) -> int:
        """Return frames as a set."""
        return sum(self._bit[name] for name in names)

    def without(self, standing: int, name: str) -> int:
        """Return a set less one frame."""
        return standing & ~self._bit[name]

    def last(self, standing: int) -> tuple[str, ...]:
        """Return the frames that may be the last stood of a set, and leave a set that can be gone on from."""
        found = self._last.get(standing)
        if found is None:
            found = self._last[standing] = tuple(self._may_be_last(standing))
        return found

    def has_way(self, name: str, lies: Stop, standing: int) -> bool:
        """Tell whether a frame can be carried from where it lies to its line, the rest of a set standing."""
        frame = self.scenario.frames[name]
        known = self._ways.setdefault((name, lies), _Known())
        return self._is_open(known, (lies, frame_stop(frame), frame), self.without(standing, name))

    def has_way_back(self, name: str, lies: Stop, standing: int) -> bool:
        """Tell whether the team gets from a line to where the next frame lies once all of a set stand."""
        known = self._backs.setdefault((name, lies), _Known())
        return self._is_open(known, (frame_stop(self.scenario.frames[name]), lies, None), standing)

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
            known.open_unless.append(tuple(self.set_of(across) for across in there.across))
        return there is not None

    def _members(self, standing: int) -> list[str]:
        return [name for name in self.names if standing & self._bit[name]]

    def _that_matters(self, name: str) -> int:
        """Return the frames of which the rules of order ask whether they stand when this one is stood.

        Those are the perimeter of its level, what it touches, and everything below.
        """
        here = self.house.level_of[name]
        below = [other for other in self.names if self.scenario.frames[other].level < here.level]
        return self.set_of({*here.perimeter, *below} - {name}) | self._touches[name] & ~self._bit[name]

    def _that_ask_for(self, name: str) -> tuple[str, ...]:
        """Return the frames of the same level for which it matters whether this one stands."""
        level = self.scenario.frames[name].level
        names = self._on_level[level]
        return tuple(other for other in names if other != name and self._matters[other] & self._bit[name])

    def _may_be_last(self, standing: int) -> Iterator[str]:
        frames = self.scenario.frames
        members = self._members(standing)
        highest = max(frames[name].level for name in members)
        level = self.set_of(self._on_level[highest]) & standing
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
        here = self.house.level_of[name]
        first = here.stand_round(self.direction)[0]
        left = [other for other in self._asks_for[name] if before & self._bit[other] and other != first]
        if not all(self._keeps_order(other, self.without(before, other)) for other in left):
            return False
        if name not in here.perimeter or self.scenario.stand.lap != "both-ways":
            return True
        return self._spared(name, before & self.set_of(here.perimeter), self._ring(here))

    def _ring(self, here: LevelHouse) -> Mapping[str, int]:
        """Return, for each frame of a perimeter, the frames before and after it."""
        if here.level not in self._rings:
            ring = here.perimeter
            self._rings[here.level] = {
                name: self.set_of({ring[place - 1], ring[(place + 1) % len(ring)]})
                for place, name in enumerate(ring)
            }
        return self._rings[here.level]

    def _keeps_order(self, name: str, standing: int) -> bool:
        """Tell whether the rules of order let a frame be stood while a set stands."""
        key = (name, standing & self._matters[name])
        if key not in self._order:
            frame = self.scenario.frames[name]
            before = self._members(key[1])
            state = State({}, {}, tuple(before), frozenset(before))
            heap = self._heap[frame.level]
            people = self.scenario.crew.team(frame.mass_kg)
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
