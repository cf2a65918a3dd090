"""The same problem with walking modelled the obvious way: a circuit whose every arc costs its walk.

A move is known with both its ends, so a frame that may wait has one move to and one from each
spot. An arc from one move to the next costs the walk from where the first ends to where the next
begins. Rules, variables, fixed number of extra lifts, narrowing and surely later moves are those
of the search; only the literals that make the relaxation a transport problem are missing.

It can express all that the search's own model can, and any cost that depends on both moves.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from packseq.house.model import House
from packseq.plan.build import Step
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes, build_routes
from packseq.routes.values import Stop, frame_stop, pack_stop, spot_stop
from packseq.scenario.model import Spot
from packseq.standup.chain import Chain, Node, least_leg_mm, sure_moves
from packseq.standup.found import steps_in
from packseq.standup.job import Job
from packseq.standup.jobs import all_jobs
from packseq.standup.lifts import fewest_lifts, ruled
from packseq.standup.search import plan_standup
from packseq.standup.solver import Clock, Solver
from packseq.standup.states.bits import Numbered
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.yard import Yard
from packseq.standup.steps import hint_steps
from packseq.standup.variables import Expression, Literal, Variables, total
from packseq.standup.waiting import narrowed


@dataclass(frozen=True)
class Trip:
    """A move with both its ends: off a pack unless `source` is given, to its line unless `target` is."""

    frame: str
    source: Spot | None = None
    target: Spot | None = None

    @property
    def node(self) -> Node:
        """The move of the search's own model that this trip is one way to make."""
        return Node(self.frame, "pack" if self.source is None else "spot")


def plain_walking(v: Variables, routes: Routes) -> Expression:
    """Add the circuit to a model with its rules and return the walking in mm, legs as in the chain."""
    job, model = v.job, v.model
    nodes = [Node(frame, "pack") for frame in job.frames] + [Node(frame, "spot") for frame in job.waiting]
    order = sure_moves(job, nodes)
    certain = {node for node in nodes if node.source == "pack" or node.frame in job.surely_waiting}
    trips = {trip: number for number, trip in enumerate(_trips(job), start=1)}
    rank = {node: v.off[node.frame] if node.source == "pack" else v.up[node.frame] for node in nodes}
    arcs: list[tuple[int, int, Literal]] = []
    costs: list[cp_model.LinearExprT] = []
    for trip, number in trips.items():
        present = _present(v, trip)
        costs.append(least_leg_mm(job, routes, _begin(job, trip), _end(job, trip), trip.frame) * present)
        arcs.append((number, number, ~present))
        after = set(order.successors(trip.node))
        skipped = {last for middle in after & certain for last in order.successors(middle)}
        for following, following_number in trips.items():
            if following.node == trip.node or following.node in skipped:
                continue
            if order.has_edge(following.node, trip.node):
                continue
            arc = model.new_bool_var("")
            arcs.append((number, following_number, arc))
            model.add(rank[following.node] == rank[trip.node] + 1).only_enforce_if(arc)
            costs.append(least_leg_mm(job, routes, _end(job, trip), _begin(job, following), None) * arc)
        if trip.source is None and not certain & set(order.predecessors(trip.node)):
            arc = model.new_bool_var("")
            arcs.append((0, number, arc))
            model.add(rank[trip.node] == 0).only_enforce_if(arc)
        if not certain & after:
            arcs.append((number, 0, model.new_bool_var("")))
    model.add_circuit(arcs)
    return total(costs)


def _trips(job: Job) -> Iterator[Trip]:
    for frame in job.frames:
        if frame not in job.surely_waiting:
            yield Trip(frame)
        if frame in job.waiting:
            for spot in job.spots_for(frame):
                yield Trip(frame, target=spot)
                yield Trip(frame, source=spot)


def _present(v: Variables, trip: Trip) -> Literal:
    spot = trip.source or trip.target
    if spot is not None:
        return v.at[trip.frame, spot.name]
    return ~v.aside[trip.frame]


def _begin(job: Job, trip: Trip) -> Stop:
    if trip.source is not None:
        return spot_stop(trip.source)
    pack = job.scenario.packs[job.scenario.pack_of[trip.frame]]
    return pack_stop(pack, job.places[pack.name])


def _end(job: Job, trip: Trip) -> Stop:
    return frame_stop(job.scenario.frames[trip.frame]) if trip.target is None else spot_stop(trip.target)


@dataclass(frozen=True, slots=True)
class Curve:
    """What a model had after so many seconds: (seconds, value or None, bound), rising in time."""

    points: tuple[tuple[float, int | None, int], ...]

    @property
    def value(self) -> int | None:
        """The best value at the end."""
        return self.points[-1][1]

    @property
    def bound(self) -> int:
        """The best bound at the end."""
        return self.points[-1][2]

    def seconds_to_bound(self, bound: int) -> float | None:
        """Return when the bound was first at least so much, None if it never was."""
        return next((seconds for seconds, _, proven in self.points if proven >= bound), None)


@dataclass(frozen=True, slots=True)
class Contest:
    """Both models of one house in one direction, from the same first plan, for the same time."""

    direction: LapDirection
    extra_lifts: int
    search: Curve
    plain: Curve


def contest(house: House, direction: LapDirection, limit_s: float) -> Contest:
    """Solve both models one after the other with the same solver settings.

    Raises
    ------
    ValueError
        If the extra lifts could not be settled first.
    """
    stand = replace(house.scenario.stand, direction=direction)
    told = replace(house, scenario=replace(house.scenario, stand=stand))
    plan = plan_standup(told, limit_s=limit_s)
    lifts = next(stage for stage in plan.stages if stage.name == "extra lifts")
    if lifts.status != "optimal" or lifts.value is None:
        raise ValueError(f"the extra lifts of {house.scenario.name} are not proven in {limit_s:.0f} s")
    routes = build_routes(house.scenario)
    (job,) = all_jobs(told)
    solver = Solver(Clock(limit_s))
    fewest = fewest_lifts(Yard(job, LegTable(routes, Numbered(job.frames))), solver)
    if fewest.best is None or fewest.best.lifts != lifts.value:
        raise ValueError(f"the order alone does not tell the extra lifts of {house.scenario.name}")
    steps = steps_in(plan)
    held = narrowed(fewest.job, fewest.best, solver)
    own, plain = ruled(held, timed=True), ruled(held, timed=True)
    return Contest(
        direction,
        fewest.best.lifts,
        _curve(own, Chain(own, routes).walking, steps, limit_s),
        _curve(plain, plain_walking(plain, routes), steps, limit_s),
    )


class _Watch(cp_model.CpSolverSolutionCallback):
    """Notes each better value and each better bound."""

    def __init__(self) -> None:
        super().__init__()
        self._began_s = time.perf_counter()
        self._value: int | None = None
        self._bound = 0
        self.points: list[tuple[float, int | None, int]] = []

    def on_solution_callback(self) -> None:
        self.note(round(self.objective_value), self.best_objective_bound)

    def on_bound(self, bound: float) -> None:
        self.note(self._value, bound)

    def note(self, value: int | None, bound: float) -> None:
        self._value = value
        self._bound = max(self._bound, math.ceil(bound - 1e-6))
        self.points.append((time.perf_counter() - self._began_s, value, self._bound))


def _curve(v: Variables, cost: Expression, steps: tuple[Step, ...], limit_s: float) -> Curve:
    v.model.minimize(cost)
    hint_steps(v, steps)
    solver = cp_model.CpSolver()
    # One search, as in packseq: with more, 9.15 of the library can abort on hinted models.
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = limit_s
    watch = _Watch()
    solver.best_bound_callback = watch.on_bound
    status = solver.solve(v.model, watch)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.UNKNOWN}:
        raise AssertionError(f"a model with a known plan ended {solver.status_name(status)}")
    solved = status != cp_model.UNKNOWN
    watch.note(round(solver.objective_value) if solved else None, solver.best_objective_bound)
    return Curve(tuple(watch.points))
