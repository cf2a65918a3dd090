"""The best stand order by trying everything: no solver, no replay, only the words of docs/rules.md.

A state is what lies where, what stands, which frame was stood last and where the team is. Every move
that the rules allow leads to another state; Dijkstra's search over costs compared in order finds the
cheapest way to stand the whole house. A frame may be set aside again and again unless told otherwise.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from typing import Literal, TypeVar

from packseq.geometry import Point
from packseq.house.model import House, LevelHouse
from packseq.scenario.model import Spot

Cost = tuple[int, ...]
Heap = tuple[tuple[str, ...], ...]
_Held = TypeVar("_Held")
Directions = tuple[Literal["anticlockwise", "clockwise"], ...]


@dataclass(frozen=True)
class State:
    """Layers of each pack (top first), frames on each spot (last put down last), what stands."""

    packs: tuple[Heap, ...]
    spots: tuple[tuple[str, ...], ...]
    stood: frozenset[str]
    last: str | None
    team_at: Point | None


@dataclass(frozen=True)
class Optimum:
    """The cheapest plan: its costs in the order of the stages, and its lifts as text."""

    cost: Cost
    moves: tuple[str, ...]


@dataclass(frozen=True)
class Oracle:
    """A house and what the oracle may do to stand it.

    `once` allows each frame to be set aside once only; `pack_tops` allows frames on top of
    packs that take them; `spots` stand in for those of the scenario.
    """

    house: House
    once: bool = False
    pack_tops: bool = True
    spots: tuple[Spot, ...] | None = None

    @property
    def there(self) -> tuple[Spot, ...]:
        """The spots there are."""
        return tuple(self.house.scenario.spots.values()) if self.spots is None else self.spots

    @property
    def directions(self) -> Directions:
        """The directions that the scenario allows."""
        wanted = self.house.scenario.stand.direction
        return ("anticlockwise", "clockwise") if wanted == "auto" else (wanted,)

    def best(self) -> Optimum | None:
        """Return the plan with least (extra lifts, walking, breaks), or least (cost, breaks)."""
        found = [optimum for way in self.directions if (optimum := Lap(self, way).best())]
        return min(found, key=lambda optimum: optimum.cost, default=None)


@dataclass(frozen=True)
class Lap:
    """An oracle's house stood in one direction."""

    oracle: Oracle
    way: Literal["anticlockwise", "clockwise"]

    def best(self) -> Optimum | None:
        scenario = self.oracle.house.scenario
        worth = math.floor(scenario.stand.lift_worth_m * 1000 + 0.5)
        delivered = tuple(
            tuple(tuple(sorted(layer)) for layer in pack.layers) for pack in scenario.packs.values()
        )
        start = State(delivered, tuple(() for _ in self.oracle.there), frozenset(), None, None)
        nothing: Cost = (0, 0) if worth else (0, 0, 0)
        ticket = count()
        waiting: list[tuple[Cost, int, State]] = [(nothing, next(ticket), start)]
        least: dict[State, Cost] = {start: nothing}
        came: dict[State, tuple[State, str]] = {}
        while waiting:
            cost, _, state = heapq.heappop(waiting)
            if cost > least[state]:
                continue
            if len(state.stood) == len(scenario.frames):
                return Optimum(cost, _moves_to(state, came))
            for text, extra, walked, broken, following in self.moves(state):
                step = (worth * extra + walked, broken) if worth else (extra, walked, broken)
                after = tuple(sum(pair) for pair in zip(cost, step, strict=True))
                if following not in least or after < least[following]:
                    least[following] = after
                    came[following] = (state, text)
                    heapq.heappush(waiting, (after, next(ticket), following))
        return None

    def moves(self, state: State) -> Iterator[tuple[str, int, int, int, State]]:
        """Yield every move the rules allow: its text, extra lifts, walking, breaks and the state after."""
        frames = self.oracle.house.scenario.frames
        for name, pick_up, from_pack, packs, spots in self.picks(state):
            if not self.floor_is_there(name, state.stood):
                continue
            fetched = _leg(state.team_at, pick_up)
            if self.may_stand(name, state.stood):
                walked = fetched + _leg(pick_up, frames[name].middle)
                broken = state.last is not None and name not in self.oracle.house.touches[state.last]
                after = State(packs, spots, state.stood | {name}, name, frames[name].middle)
                yield name, 0, walked, int(broken), after
            if from_pack or not self.oracle.once:
                for text, drop, down in self.drops(name, packs, spots, state):
                    yield text, 1, fetched + _leg(pick_up, drop), 0, down

    def picks(
        self, state: State
    ) -> Iterator[tuple[str, Point, bool, tuple[Heap, ...], tuple[tuple[str, ...], ...]]]:
        """Yield each frame that can be taken: its name, place, whether off its own pack, what is left."""
        scenario = self.oracle.house.scenario
        for place, (layers, pack) in enumerate(zip(state.packs, scenario.packs.values(), strict=True)):
            for name in layers[0] if layers else ():
                rest = tuple(other for other in layers[0] if other != name)
                left = ((rest,) if rest else ()) + layers[1:]
                own = name in pack.frames
                yield name, pack.places[0].at, own, _with(state.packs, place, left), state.spots
        for place, (lying, spot) in enumerate(zip(state.spots, self.oracle.there, strict=True)):
            for name in lying[-1:] if spot.kind == "pile" else lying:
                rest = tuple(other for other in lying if other != name)
                yield name, spot.at, False, state.packs, _with(state.spots, place, rest)

    def drops(
        self, name: str, packs: tuple[Heap, ...], spots: tuple[tuple[str, ...], ...], state: State
    ) -> Iterator[tuple[str, Point, State]]:
        """Yield each way to set a frame aside."""
        scenario = self.oracle.house.scenario
        frame = scenario.frames[name]
        if scenario.crew.people < self.team(name):
            return
        for place, (lying, spot) in enumerate(zip(spots, self.oracle.there, strict=True)):
            fits = spot.level == frame.level and frame.length_mm <= spot.size_mm[0]
            if spot.kind == "pile":
                fits = fits and frame.height_mm <= spot.size_mm[1]
            if fits and len(lying) < spot.holds:
                down = (*lying, name) if spot.kind == "pile" else tuple(sorted((*lying, name)))
                after = State(packs, _with(spots, place, down), state.stood, state.last, spot.at)
                yield f"{name}>{spot.name}", spot.at, after
        for place, (layers, pack) in enumerate(zip(packs, scenario.packs.values(), strict=True)):
            takes = self.oracle.pack_tops and pack.holds > 0 and len(layers) <= pack.holds
            if takes and pack.level == frame.level:
                at = pack.places[0].at
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
        return choices.internals_any_time or (
            len(missing) <= choices.hold_open and not missing & set(level.reference)
        )


def _with(places: tuple[_Held, ...], place: int, held: _Held) -> tuple[_Held, ...]:
    return (*places[:place], held, *places[place + 1 :])


def _leg(start: Point | None, end: Point) -> int:
    return 0 if start is None else math.floor(math.dist(start, end) + 0.5)


def _moves_to(state: State, came: dict[State, tuple[State, str]]) -> tuple[str, ...]:
    moves: list[str] = []
    while state in came:
        state, text = came[state]
        moves.append(text)
    return tuple(reversed(moves))
