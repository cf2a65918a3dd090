"""The best stand order by trying everything: no solver, no replay, only the words of docs/rules.md.

A state is what lies where, what stands, which frame was stood last and where the team is. Every move
that the rules allow leads to another state; Dijkstra's search over costs compared in order finds the
cheapest way to stand the whole house. A frame may be set aside again and again unless told otherwise.
The team walks by every line between corners that is clear; no-go areas are not known here.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, count, product
from typing import Literal, TypeVar

import shapely
import shapely.affinity
from walk_oracle import TriedLines, Whereabouts

from packseq.house.model import House, LevelHouse
from packseq.plan.begin import Begin
from packseq.scenario.model import Frame, Pack, Place, Spot

Cost = tuple[int, ...]
Heap = tuple[tuple[str, ...], ...]
_Held = TypeVar("_Held")
Landing = tuple[Place, ...]
Directions = tuple[Literal["anticlockwise", "clockwise"], ...]


@dataclass(frozen=True)
class State:
    """Layers of each pack (top first), frames on each spot (last put down last), what stands."""

    packs: tuple[Heap, ...]
    spots: tuple[tuple[str, ...], ...]
    stood: frozenset[str]
    last: str | None
    team_at: Whereabouts | None


@dataclass(frozen=True)
class Optimum:
    """The cheapest plan: its costs in the order of the stages, and its lifts as text."""

    cost: Cost
    moves: tuple[str, ...]


@dataclass(frozen=True)
class Oracle:
    """A house and what the oracle may do to stand it.

    `once` allows each frame to be set aside once only; `pack_tops` allows frames on top of
    packs that take them; `spots` stand in for those of the scenario. With `begin` it goes on from
    there, in the directions `ways`; the house has the crew and the packs' places of that moment.
    """

    house: House
    once: bool = False
    pack_tops: bool = True
    spots: tuple[Spot, ...] | None = None
    begin: Begin | None = None
    ways: Directions | None = None

    @property
    def there(self) -> tuple[Spot, ...]:
        """The spots there are."""
        return tuple(self.house.scenario.spots.values()) if self.spots is None else self.spots

    @property
    def directions(self) -> Directions:
        """The directions that the scenario allows."""
        if self.ways is not None:
            return self.ways
        wanted = self.house.scenario.stand.direction
        return ("anticlockwise", "clockwise") if wanted == "auto" else (wanted,)

    @cached_property
    def landings(self) -> tuple[Landing, ...]:
        """The ways in which the packs may land clear of one another; the first places if there is none."""
        packs = tuple(self.house.scenario.packs.values())
        every = list(product(*(pack.places for pack in packs)))
        clear = [landing for landing in every if _apart(packs, landing)]
        return tuple(clear or every[:1])

    @cached_property
    def lines(self) -> dict[int, TriedLines]:
        """The ways to walk on each level."""
        frames = self.house.scenario.frames.values()
        levels = {frame.level for frame in frames}
        return {
            level: TriedLines([frame for frame in frames if frame.level == level]) for level in sorted(levels)
        }

    def best(self) -> Optimum | None:
        """Return the plan with least (extra lifts, walking, breaks), or least (cost, breaks)."""
        found = [
            optimum
            for landing in self.landings
            for way in self.directions
            if (optimum := Lap(self, way, landing).best())
        ]
        return min(found, key=lambda optimum: optimum.cost, default=None)


@dataclass(frozen=True)
class Lap:
    """One direction and one way in which the packs landed: at their first places unless told."""

    oracle: Oracle
    way: Literal["anticlockwise", "clockwise"]
    landing: Landing = ()

    @cached_property
    def places(self) -> Landing:
        """Where each pack lies."""
        packs = self.oracle.house.scenario.packs.values()
        return self.landing or tuple(pack.places[0] for pack in packs)

    def best(self) -> Optimum | None:
        scenario = self.oracle.house.scenario
        worth = math.floor(scenario.stand.lift_worth_m * 1000 + 0.5)
        delivered = tuple(
            tuple(tuple(sorted(layer)) for layer in pack.layers) for pack in scenario.packs.values()
        )
        start = State(delivered, tuple(() for _ in self.oracle.there), frozenset(), None, None)
        if self.oracle.begin is not None:
            start = self._begun(self.oracle.begin)
        nothing: Cost = (0, 0) if worth else (0, 0, 0)
        ticket = count()
        waiting: list[tuple[Cost, int, State]] = [(nothing, next(ticket), start)]
        least: dict[State, Cost] = {start: nothing}
        came: dict[State, tuple[State, str]] = {}
        while waiting:
            cost, _, state = heapq.heappop(waiting)
            if cost > least[state]:
                continue
            if not self.wanted - state.stood:
                return Optimum(cost, _moves_to(state, came))
            for text, extra, walked, broken, following in self.moves(state):
                step = (worth * extra + walked, broken) if worth else (extra, walked, broken)
                after = tuple(sum(pair) for pair in zip(cost, step, strict=True))
                if following not in least or after < least[following]:
                    least[following] = after
                    came[following] = (state, text)
                    heapq.heappush(waiting, (after, next(ticket), following))
        return None

    @cached_property
    def wanted(self) -> frozenset[str]:
        """The frames that are stood in the end."""
        begin = self.oracle.begin
        return frozenset(self.oracle.house.scenario.frames).difference(
            () if begin is None else begin.left_out
        )

    def _begun(self, begin: Begin) -> State:
        packs = tuple(
            tuple(tuple(sorted(layer.frames)) for layer in begin.packs.get(name, ()))
            for name in self.oracle.house.scenario.packs
        )
        lying = ((spot.kind, begin.spots.get(spot.name, ())) for spot in self.oracle.there)
        spots = tuple(names if kind == "pile" else tuple(sorted(names)) for kind, names in lying)
        return State(packs, spots, frozenset(begin.stood), None, None)

    def moves(self, state: State) -> Iterator[tuple[str, int, int, int, State]]:
        """Yield every move the rules allow: its text, extra lifts, walking, breaks and the state after."""
        frames = self.oracle.house.scenario.frames
        for name, pick_up, from_pack, packs, spots in self.picks(state):
            if not self.floor_is_there(name, state.stood):
                continue
            level = frames[name].level
            fetched = self._leg(level, state.team_at, pick_up, None, state.stood)
            if fetched is None:
                continue
            line = Whereabouts(frames[name].middle, name)
            if (
                name in self.wanted
                and self.may_stand(name, state.stood)
                and not self.covered(name, packs, spots)
            ):
                carried = self._leg(level, pick_up, line, frames[name], state.stood)
                if carried is not None:
                    broken = state.last is not None and name not in self.oracle.house.touches[state.last]
                    after = State(packs, spots, state.stood | {name}, name, line)
                    yield name, 0, fetched + carried, int(broken), after
            if from_pack or not self.oracle.once:
                for text, drop, down in self.drops(name, packs, spots, state):
                    carried = self._leg(level, pick_up, drop, frames[name], state.stood)
                    if carried is not None:
                        yield text, 1, fetched + carried, 0, down

    def _leg(
        self,
        level: int,
        start: Whereabouts | None,
        end: Whereabouts,
        carried: Frame | None,
        stood: frozenset[str],
    ) -> int | None:
        """Return the length of a leg in whole mm, None where there is no way."""
        if start is None:
            return 0
        frames = self.oracle.house.scenario.frames
        if start.frame is not None and frames[start.frame].level != level:
            length: float | None = math.dist(start.point, end.point)
        else:
            length = self.oracle.lines[level].shortest_mm(start, end, carried, stood)
        return None if length is None else math.floor(length + 0.5)

    @cached_property
    def under(self) -> tuple[tuple[frozenset[str], ...], tuple[frozenset[str], ...]]:
        """The frames whose lines lie under each pack, and under each spot, in part or whole."""
        packs = self.oracle.house.scenario.packs.values()
        of_packs = [
            (pack.level, _ground(place.at, place.bearing_deg, pack.length_mm, pack.width_mm))
            for pack, place in zip(packs, self.places, strict=True)
        ]
        of_spots = [
            (spot.level, _ground(spot.at, spot.bearing_deg, *spot.size_mm)) for spot in self.oracle.there
        ]
        return tuple(map(self._lines_on, of_packs)), tuple(map(self._lines_on, of_spots))

    def _lines_on(self, ground: tuple[int, shapely.Geometry]) -> frozenset[str]:
        level, shape = ground
        return frozenset(
            frame.name
            for frame in self.oracle.house.scenario.frames.values()
            if frame.level == level and shapely.intersection(shape, _wall(frame)).area > 1
        )

    def covered(self, name: str, packs: tuple[Heap, ...], spots: tuple[tuple[str, ...], ...]) -> bool:
        """Tell whether a pack or spot with frames, this one taken off it, lies where a frame is to stand."""
        under_packs, under_spots = self.under
        return any(
            lying and name in lines
            for lying, lines in (*zip(packs, under_packs, strict=True), *zip(spots, under_spots, strict=True))
        )

    def picks(
        self, state: State
    ) -> Iterator[tuple[str, Whereabouts, bool, tuple[Heap, ...], tuple[tuple[str, ...], ...]]]:
        """Yield each frame that can be taken: its name, place, whether off its own pack, what is left."""
        scenario = self.oracle.house.scenario
        for place, (layers, pack) in enumerate(zip(state.packs, scenario.packs.values(), strict=True)):
            for name in layers[0] if layers else ():
                rest = tuple(other for other in layers[0] if other != name)
                left = ((rest,) if rest else ()) + layers[1:]
                at = Whereabouts(self.places[place].at)
                yield name, at, name in pack.frames, _with(state.packs, place, left), state.spots
        for place, (lying, spot) in enumerate(zip(state.spots, self.oracle.there, strict=True)):
            for name in lying[-1:] if spot.kind == "pile" else lying:
                rest = tuple(other for other in lying if other != name)
                yield name, Whereabouts(spot.at), False, state.packs, _with(state.spots, place, rest)

    def drops(
        self, name: str, packs: tuple[Heap, ...], spots: tuple[tuple[str, ...], ...], state: State
    ) -> Iterator[tuple[str, Whereabouts, State]]:
        """Yield each way to set a frame aside."""
        scenario = self.oracle.house.scenario
        frame = scenario.frames[name]
        if scenario.crew.people < self.team(name):
            return
        under_packs, under_spots = self.under
        for place, (lying, spot) in enumerate(zip(spots, self.oracle.there, strict=True)):
            fits = spot.level == frame.level and frame.length_mm <= spot.size_mm[0]
            if spot.kind == "pile":
                fits = fits and frame.height_mm <= spot.size_mm[1]
            if fits and len(lying) < spot.holds and not under_spots[place] & state.stood:
                down = (*lying, name) if spot.kind == "pile" else tuple(sorted((*lying, name)))
                at = Whereabouts(spot.at)
                after = State(packs, _with(spots, place, down), state.stood, state.last, at)
                yield f"{name}>{spot.name}", at, after
        for place, (layers, pack) in enumerate(zip(packs, scenario.packs.values(), strict=True)):
            takes = self.oracle.pack_tops and pack.holds > 0 and len(layers) <= pack.holds
            if takes and pack.level == frame.level and not under_packs[place] & state.stood:
                at = Whereabouts(self.places[place].at)
                after = State(_with(packs, place, ((name,), *layers)), spots, state.stood, state.last, at)
                yield f"{name}>{pack.name}+", at, after

    def team(self, name: str) -> int:
        """Return the people that a frame needs."""
        scenario = self.oracle.house.scenario
        return max(2, math.ceil(scenario.frames[name].mass_kg / scenario.crew.share_kg))

    def floor_is_there(self, name: str, stood: frozenset[str]) -> bool:
        """Tell whether every frame of the levels below stands."""
        frames = self.oracle.house.scenario.frames.values()
        level = self.oracle.house.scenario.frames[name].level
        return all(frame.name in stood for frame in frames if frame.level < level)

    def may_stand(self, name: str, stood: frozenset[str]) -> bool:
        """Tell whether the rules on order and crew let a frame be stood."""
        house = self.oracle.house
        number = house.scenario.frames[name].level
        (level,) = (each for each in house.levels if each.level == number)
        here = {*level.perimeter, *level.internals}
        return (
            self.team(name) <= house.scenario.crew.people
            and self._wall_first(name, level, stood)
            and (name not in level.perimeter or self._laps(name, level, stood))
            and (not stood & here or bool(stood & set(house.touches[name])))
            and (name not in level.internals or self._closed_enough(level, stood))
        )

    def _order(self, level: LevelHouse) -> list[str]:
        wall, rest = list(level.reference), [name for name in level.perimeter if name not in level.reference]
        return wall + rest if self.way == "anticlockwise" else wall[::-1] + rest[::-1]

    def _wall_first(self, name: str, level: LevelHouse, stood: frozenset[str]) -> bool:
        wall = self._order(level)[: len(level.reference)]
        before = wall[: wall.index(name)] if name in wall else wall
        return stood.issuperset(before)

    def _laps(self, name: str, level: LevelHouse, stood: frozenset[str]) -> bool:
        choices, ring = self.oracle.house.scenario.stand, level.perimeter
        if choices.lap == "one-way":
            order = self._order(level)
            return stood.issuperset(order[: order.index(name)])
        if choices.lap == "both-ways" and stood & set(ring):
            place = ring.index(name)
            beside = {ring[place - 1]} if place or level.closed else set()
            if place + 1 < len(ring) or level.closed:
                beside.add(ring[(place + 1) % len(ring)])
            return bool(beside & stood)
        return True

    def _closed_enough(self, level: LevelHouse, stood: frozenset[str]) -> bool:
        choices = self.oracle.house.scenario.stand
        missing = set(level.perimeter) - stood
        order = self._order(level)
        last_of_lap = choices.lap != "one-way" or missing == set(order[len(order) - len(missing) :])
        return choices.internals_any_time or (
            len(missing) <= choices.hold_open and not missing & set(level.reference) and last_of_lap
        )


def _with(places: tuple[_Held, ...], place: int, held: _Held) -> tuple[_Held, ...]:
    return (*places[:place], held, *places[place + 1 :])


def _apart(packs: tuple[Pack, ...], landing: Landing) -> bool:
    """Tell whether no two packs of a level land on the same ground."""
    grounds = [
        (pack.level, _ground(place.at, place.bearing_deg, pack.length_mm, pack.width_mm))
        for pack, place in zip(packs, landing, strict=True)
    ]
    return all(
        one[0] != other[0] or shapely.intersection(one[1], other[1]).area <= 1
        for one, other in combinations(grounds, 2)
    )


def _ground(at: tuple[float, float], bearing_deg: float, length: float, width: float) -> shapely.Geometry:
    box = shapely.box(at[0] - length / 2, at[1] - width / 2, at[0] + length / 2, at[1] + width / 2)
    return shapely.affinity.rotate(box, bearing_deg)


def _wall(frame: Frame) -> shapely.Geometry:
    return shapely.LineString([frame.start, frame.end]).buffer(frame.thickness_mm / 2, cap_style="flat")


def _moves_to(state: State, came: dict[State, tuple[State, str]]) -> tuple[str, ...]:
    moves: list[str] = []
    while state in came:
        state, text = came[state]
        moves.append(text)
    return tuple(reversed(moves))
