"""The walking of a plan's own moves, in an order found by a vehicle routing solver.

The moves are taken as they are in a plan: who waits, and on which spot. One vehicle makes them all;
an arc costs the walk from where one move ends to where the next begins, and the next move's carry.
Counting moves is a dimension, on which the precedences between moves are laid.

It can express: the order of moves, their legs, every rule that says "before", and "joined" through a
minimum over neighbours. It cannot choose who waits or where (two moves of one frame that are made or
not made together, with ends that depend on each other), so what happens on the spots keeps the
plan's order; nor can it prove a bound. It starts from an order that always takes the nearest move.
Given a plan's own choices it may equal the least walking, and better a plan that is not proven.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from ortools.constraint_solver import pywrapcp, routing_enums_pb2

from packseq.check import replay
from packseq.geometry import Point, leg_mm
from packseq.house.model import House
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Move, Plan
from packseq.scenario.model import Place, Spot
from packseq.standup.rules import RULES
from packseq.standup.surely import sure_pairs


@dataclass(frozen=True, slots=True)
class Routed:
    """What the routing solver made of it: walking in mm as the check counts it, None if it found no order."""

    walking_mm: int | None
    violations: int
    found_s: float | None
    spent_s: float


def routed(house: House, plan: Plan, limit_s: float) -> Routed:
    """Return how far the moves of a plan walk in the best order that the routing solver finds.

    Its order is replayed by the check; an order that breaks a rule would be told in `violations`.
    """
    listed = list(house.scenario.frames)
    # By the frame list, so that nothing of the plan's order is in the numbers.
    moves = sorted(plan.moves, key=lambda move: (listed.index(move.frame), move.do))
    ends = _ends(house, plan, moves)
    before = sorted(set(_precedences(house, plan, moves)))
    joined = dict(_joined(house, plan, moves))
    depot = len(moves)
    manager = pywrapcp.RoutingIndexManager(len(moves) + 1, 1, depot)
    routing = pywrapcp.RoutingModel(manager)

    def legs_mm(start: int, end: int) -> int:
        done, following = manager.IndexToNode(start), manager.IndexToNode(end)
        if following == depot:
            return 0
        carried = leg_mm(*ends[following])
        return carried if done == depot else leg_mm(ends[done][1], ends[following][0]) + carried

    routing.SetArcCostEvaluatorOfAllVehicles(routing.RegisterTransitCallback(legs_mm))
    routing.AddDimension(routing.RegisterUnaryTransitCallback(_one), 0, len(moves) + 1, True, "moves made")
    made = routing.GetDimensionOrDie("moves made")
    rank = [made.CumulVar(manager.NodeToIndex(number)) for number in range(len(moves))]
    for earlier, later in before:
        routing.solver().Add(rank[earlier] < rank[later])
    for stand, neighbours in joined.items():
        first = routing.solver().Min([rank[neighbour] for neighbour in neighbours])
        routing.solver().Add(first < rank[stand])
    found: list[float] = []
    began_s = time.perf_counter()
    routing.AddAtSolutionCallback(lambda: found.append(time.perf_counter() - began_s))
    parameters = _parameters(limit_s)
    routing.CloseModelWithParameters(parameters)
    start = routing.ReadAssignmentFromRoutes([_nearest_first(ends, before, joined)], True)
    answer = routing.SolveFromAssignmentWithParameters(start, parameters)
    spent_s = time.perf_counter() - began_s
    if answer is None:
        return Routed(None, 0, None, spent_s)
    order = []
    index = answer.Value(routing.NextVar(routing.Start(0)))
    while not routing.IsEnd(index):
        order.append(manager.IndexToNode(index))
        index = answer.Value(routing.NextVar(index))
    done = replay(house, _reordered(house, plan, [moves[number] for number in order]))
    return Routed(done.cost.walking_mm, len(done.violations), found[-1] if found else None, spent_s)


def _one(_index: int) -> int:
    return 1


def _parameters(limit_s: float) -> pywrapcp.DefaultRoutingSearchParameters:
    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    parameters.time_limit.FromMilliseconds(round(limit_s * 1000))
    return parameters


def _nearest_first(
    ends: Sequence[tuple[Point, Point]],
    before: Sequence[tuple[int, int]],
    joined: Mapping[int, Sequence[int]],
) -> list[int]:
    """Return an order to start from: always the nearest move that may be made.

    Of the solver's own first solutions most find none under these precedences. This one never gets
    stuck where there is an order: a move that may be made once may still be made later.
    """
    needs: dict[int, set[int]] = defaultdict(set)
    for earlier, later in before:
        needs[later].add(earlier)
    order: list[int] = []
    left = set(range(len(ends)))
    while left:
        made = set(order)
        open_now = [
            move
            for move in sorted(left)
            if needs[move] <= made and (move not in joined or not made.isdisjoint(joined[move]))
        ]
        here = ends[order[-1]][1] if order else None
        nearest = min(open_now, key=lambda move: 0 if here is None else leg_mm(here, ends[move][0]))
        order.append(nearest)
        left.remove(nearest)
    return order


def _ends(house: House, plan: Plan, moves: Sequence[Move]) -> list[tuple[Point, Point]]:
    """Return for each move where it begins and where it ends."""
    spots = {spot.name: spot.at_mm for spot in plan.spots}
    packs = {name: (x, y) for name, (x, y, _) in plan.places.items()}
    frames = house.scenario.frames
    return [
        (
            packs[move.origin.pack or ""] if move.origin.spot is None else spots[move.origin.spot],
            frames[move.frame].middle if move.to is None else spots[move.to.spot or ""],
        )
        for move in moves
    ]


def _precedences(house: House, plan: Plan, moves: Sequence[Move]) -> Iterator[tuple[int, int]]:
    """Yield pairs of moves (earlier, later): the rules' own, what was held open, packs and spots."""
    stand, off = _moves_of(moves)
    if plan.direction is None:
        raise ValueError("the plan has no direction")
    for earlier, later in sure_pairs(house, plan.direction, frozenset(RULES)):
        yield stand[earlier], stand[later]
    for level in house.levels:
        for frame in level.perimeter:
            if frame not in plan.held_open:
                yield from ((stand[frame], stand[internal]) for internal in level.internals)
    for pack in house.scenario.packs.values():
        for upper, lower in pairwise(pack.layers):
            yield from ((off[above], off[below]) for above in upper for below in lower)
    yield from ((off[frame], stand[frame]) for frame in off if off[frame] != stand[frame])
    yield from _on_spots(plan, moves)


def _moves_of(moves: Sequence[Move]) -> tuple[Mapping[str, int], Mapping[str, int]]:
    """Return for each frame the number of the move that stands it and of that which takes it off its pack."""
    stand = {move.frame: number for number, move in enumerate(moves) if move.do == "stand"}
    off = {move.frame: number for number, move in enumerate(moves) if move.origin.pack is not None}
    return stand, off


def _on_spots(plan: Plan, moves: Sequence[Move]) -> Iterator[tuple[int, int]]:
    """Yield what keeps each two frames of one spot in the plan's order, where the order matters."""
    kinds = {spot.name: spot.kind for spot in plan.spots}
    planned_stand, planned_off = _moves_of(plan.moves)
    stand, off = _moves_of(moves)
    waiting = [(move.to.spot, move.frame) for move in plan.moves if move.to is not None and move.to.spot]
    for (spot, first), (other_spot, second) in combinations(waiting, 2):
        if spot != other_spot:
            continue
        if planned_stand[first] < planned_off[second]:
            yield stand[first], off[second]
        elif kinds[spot] == "pile":
            yield off[first], off[second]
            yield stand[second], stand[first]


def _joined(house: House, plan: Plan, moves: Sequence[Move]) -> Iterator[tuple[int, list[int]]]:
    """Yield each frame's stand, but for the first of its level, with the stands of what touches it."""
    stand, _ = _moves_of(moves)
    begun: set[int] = set()
    for move in plan.moves:
        level = house.scenario.frames[move.frame].level
        if move.do == "stand" and level in begun:
            yield stand[move.frame], [stand[near] for near in house.touches[move.frame]]
        elif move.do == "stand":
            begun.add(level)


def _reordered(house: House, plan: Plan, moves: Sequence[Move]) -> Plan:
    steps = [Step(move.do, move.frame, to_spot=None if move.to is None else move.to.spot) for move in moves]
    return build_plan(house, steps, spots=_spots(plan), places=_places(plan))


def _spots(plan: Plan) -> Mapping[str, Spot]:
    return {spot.name: spot.spot() for spot in plan.spots}


def _places(plan: Plan) -> Mapping[str, Place]:
    return {name: Place((x, y), bearing) for name, (x, y, bearing) in plan.places.items()}
