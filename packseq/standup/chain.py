"""Walking: the chain of moves, from the first pick-up to the last drop.

The cost of walking empty-handed from a drop to the next pick-up depends on the drop and on the
place where the next frame lies, not on which frame it is. So the arcs between moves only carry
literals ``goes[move, place]``, equal to the sum of the arcs that lead to that place. With the
number of pick-ups at each place fixed by what lies there, the relaxation is a transport problem,
far tighter than a circuit with a cost on every arc.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Literal as Either

import networkx as nx
from ortools.sat.python import cp_model

from packseq.routes.engine import Routes
from packseq.routes.values import Stop, frame_stop, pack_stop, spot_stop
from packseq.standup.job import Job
from packseq.standup.variables import Literal, Variables, total


@dataclass(frozen=True, slots=True, order=True)
class Node:
    """A move: a frame taken off its pack (to its line or a spot), or off its spot to its line."""

    frame: str
    source: Either["pack", "spot"]


@dataclass(frozen=True, slots=True, order=True)
class Source:
    """A place where frames lie to be picked up."""

    kind: Either["pack", "spot"]
    name: str


class Chain:
    """The circuit through all moves and the walking it costs.

    ``follows[a, b]`` says that move b comes straight after move a; None stands for the start and
    the end. `walking` is the sum of all legs in mm, as a linear expression.
    """

    def __init__(self, v: Variables, legs: Routes) -> None:
        self.v = v
        self.legs = legs
        job = v.job
        self.nodes = [Node(frame, "pack") for frame in job.frames]
        self.nodes += [Node(frame, "spot") for frame in job.waiting]
        self.sources = [Source("pack", pack) for pack in job.scenario.packs]
        self.sources += [Source("spot", spot) for spot in job.spots]
        self.follows: dict[tuple[Node | None, Node | None], Literal] = {}
        self._add_circuit()
        self._goes = self._next_places()
        self.costs: list[cp_model.LinearExprT] = []
        self._add_legs()
        self.walking = total(self.costs)

    def rank(self, node: Node) -> cp_model.IntVar:
        """Return the place of a move among all moves."""
        return self.v.off[node.frame] if node.source == "pack" else self.v.up[node.frame]

    def present(self, node: Node) -> Literal:
        """Return the literal that says the move is made."""
        return self.v.always if node.source == "pack" else self.v.aside[node.frame]

    def _add_circuit(self) -> None:
        v, model = self.v, self.v.model
        order = sure_moves(v.job, self.nodes)
        certain = {node for node in self.nodes if node.source == "pack" or node.frame in v.job.surely_waiting}
        number = {node: position for position, node in enumerate(self.nodes, start=1)}
        arcs: list[tuple[int, int, Literal]] = []
        for node in self.nodes:
            after = set(order.successors(node))
            skipped = {last for middle in after & certain for last in order.successors(middle)}
            for following in self.nodes:
                if following == node or following in skipped or order.has_edge(following, node):
                    continue
                arc = self.follows[node, following] = model.new_bool_var("")
                arcs.append((number[node], number[following], arc))
                model.add(self.rank(following) == self.rank(node) + 1).only_enforce_if(arc)
            if node not in certain:
                arcs.append((number[node], number[node], ~self.present(node)))
            if node.source == "pack" and not certain & set(order.predecessors(node)):
                arc = self.follows[None, node] = model.new_bool_var("")
                arcs.append((0, number[node], arc))
                model.add(self.rank(node) == 0).only_enforce_if(arc)
            if not certain & after:
                arc = self.follows[node, None] = model.new_bool_var("")
                arcs.append((number[node], 0, arc))
        model.add_circuit(arcs)

    def _next_places(self) -> dict[tuple[Node | None, Source], Literal]:
        """Return ``goes[move, source]``: where the team walks after a move (None: where it begins)."""
        model, job = self.v.model, self.v.job
        leading: dict[tuple[Node | None, str], list[Literal]] = defaultdict(list)
        for (node, following), arc in self.follows.items():
            if following is None:
                leading[node, "end"].append(arc)
            elif following.source == "pack":
                leading[node, f"pack {job.scenario.pack_of[following.frame]}"].append(arc)
            else:
                leading[node, "spots"].append(arc)
        goes: dict[tuple[Node | None, Source], Literal] = {}
        for node in (None, *self.nodes):
            for source in self.sources:
                goes[node, source] = model.new_bool_var("")
                if source.kind == "pack":
                    model.add(goes[node, source] == total(leading[node, f"pack {source.name}"]))
            to_spots = [goes[node, source] for source in self.sources if source.kind == "spot"]
            model.add(total(to_spots) == total(leading[node, "spots"]))
            if node is not None:
                onward = total(goes[node, source] for source in self.sources) + total(leading[node, "end"])
                model.add(onward == self.present(node))
        for (node, following), arc in self.follows.items():
            if following is not None and following.source == "spot":
                for spot in job.spots_for(following.frame):
                    here = self.v.at[following.frame, spot.name]
                    model.add_bool_or([~arc, ~here, goes[node, Source("spot", spot.name)]])
        return goes

    def _add_legs(self) -> None:
        job, model = self.v.job, self.v.model
        arrivals: dict[Source, list[Literal]] = {
            source: [self._goes[None, source]] for source in self.sources
        }
        for frame in job.frames:
            if frame in job.waiting:
                self._add_waiting_frame(frame, arrivals)
            else:
                self._add_straight_frame(frame, arrivals)
        for source in self.sources:
            if source.kind == "pack":
                lying: cp_model.LinearExprT = len(job.scenario.packs[source.name].frames)
            else:
                lying = total(here for (_, spot), here in self.v.at.items() if spot == source.name)
            model.add(total(arrivals[source]) == lying)

    def _add_straight_frame(self, frame: str, arrivals: dict[Source, list[Literal]]) -> None:
        """Cost a frame that goes from its pack to its line, and the walk from there."""
        line = self._line(frame)
        self.costs.append(self._mm(self._pack_point(frame), line, frame))
        for source in self.sources:
            goes = self._goes[Node(frame, "pack"), source]
            arrivals[source].append(goes)
            self.costs.append(self._mm(line, self._point(source), None) * goes)

    def _add_waiting_frame(self, frame: str, arrivals: dict[Source, list[Literal]]) -> None:
        """Cost a frame that may go by way of a spot, and the walks from the spot and from its line."""
        model, aside, line = self.v.model, self.v.aside[frame], self._line(frame)
        off_pack, off_spot = Node(frame, "pack"), Node(frame, "spot")
        pack = self._pack_point(frame)
        self.costs.append(self._mm(pack, line, frame) * (1 - aside))
        from_line = {source: model.new_bool_var("") for source in self.sources}
        for source, goes in from_line.items():
            model.add_implication(self._goes[off_spot, source], goes)
            model.add_bool_or([~self._goes[off_pack, source], aside, goes])
            arrivals[source].append(goes)
            self.costs.append(self._mm(line, self._point(source), None) * goes)
        ends = [self.follows[node, None] for node in (off_pack, off_spot) if (node, None) in self.follows]
        model.add(total(from_line.values()) + total(ends) == 1)
        from_any_spot: dict[Source, list[Literal]] = defaultdict(list)
        for spot in self.v.job.spots_for(frame):
            here = self.v.at[frame, spot.name]
            carried = self._mm(pack, spot_stop(spot), frame) + self._mm(spot_stop(spot), line, frame)
            self.costs.append(carried * here)
            onward = {source: model.new_bool_var("") for source in self.sources}
            model.add(total(onward.values()) == here)
            for source, goes in onward.items():
                from_any_spot[source].append(goes)
                arrivals[source].append(goes)
                self.costs.append(self._mm(spot_stop(spot), self._point(source), None) * goes)
        for source, goes_from in from_any_spot.items():
            model.add(total(goes_from) <= self._goes[off_pack, source])
            model.add(total(goes_from) >= self._goes[off_pack, source] + aside - 1)

    def _line(self, frame: str) -> Stop:
        return frame_stop(self.v.job.scenario.frames[frame])

    def _pack_point(self, frame: str) -> Stop:
        return self._point(Source("pack", self.v.job.scenario.pack_of[frame]))

    def _point(self, source: Source) -> Stop:
        job = self.v.job
        if source.kind == "pack":
            return pack_stop(job.scenario.packs[source.name], job.places[source.name])
        return spot_stop(job.spots[source.name])

    def _mm(self, start: Stop, end: Stop, carried: str | None) -> int:
        return least_leg_mm(self.v.job, self.legs, start, end, carried)


def least_leg_mm(job: Job, routes: Routes, start: Stop, end: Stop, carried: str | None) -> int:
    """Return the leg by the route that what surely stands by then leaves: no plan has a shorter one."""
    frame = None if carried is None else job.scenario.frames[carried]
    surely: frozenset[str] = frozenset()
    if end.frame is not None:
        surely = job.earlier[end.frame]
    elif start.frame is not None:
        surely = job.earlier[start.frame] | {start.frame}
    leg = routes.leg(start, end, frame, surely)
    return 0 if leg is None else leg.mm


def sure_moves(job: Job, nodes: list[Node]) -> nx.DiGraph[Node]:
    """Return the moves with an arc from each to every move that surely comes later, if both are made."""
    graph: nx.DiGraph[Node] = nx.DiGraph()
    graph.add_nodes_from(nodes)
    waiting = frozenset(job.waiting)
    for node in nodes:
        beneath = frozenset(job.beneath(node.frame)) if "top-of-pack" in job.rules else frozenset()
        for other in nodes:
            if node.frame == other.frame:
                surely = node.source == "pack" and other.source == "spot"
            elif node.source == "pack" and other.frame in beneath:
                surely = True
            else:
                ends_up = other.source == "spot" or other.frame not in waiting
                surely = ends_up and other.frame in job.later[node.frame]
            if surely:
                graph.add_edge(node, other)
    return nx.transitive_closure_dag(graph)
