"""One house to be stood in one direction: what the model needs to know before it is built."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import networkx as nx

from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Place, Scenario, Spot
from packseq.standup.surely import sure_pairs

Later = Mapping[str, frozenset[str]]


@dataclass(frozen=True, slots=True)
class ShutOut:
    """Frames that, all standing, leave a carried frame no way in, from where it waits or off its pack."""

    frame: str
    by: frozenset[str]
    waiting: bool


@dataclass(frozen=True)
class Job:
    """A house, a direction, where the packs landed, and which frames can come to wait on a spot.

    Parameters
    ----------
    house
        What is to stand.
    direction
        Order in which the reference wall is stood, and the lap if it is one-way.
    spots, places
        Spots and pack places that the plan uses, by name.
    rules
        Names of the rules that are kept; all of them but when a conflict is being narrowed down.
    may_wait
        Frames that may be set aside, or None for any; anything proven about a plan holds only
        for plans that set no other frame aside.
    must_wait
        Frames known to be set aside in every plan that is looked for.
    lifts
        The exact number of extra lifts of every plan that is looked for, or None.
    shut_out
        What is known so far of frames that leave another one no way in.
    """

    house: House
    direction: LapDirection
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    rules: frozenset[str]
    may_wait: frozenset[str] | None = None
    must_wait: frozenset[str] = frozenset()
    lifts: int | None = None
    shut_out: tuple[ShutOut, ...] = ()

    @property
    def scenario(self) -> Scenario:
        """The scenario that the house was derived from."""
        return self.house.scenario

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Every frame, in the order of frames.csv."""
        return tuple(self.scenario.frames)

    @cached_property
    def later(self) -> Later:
        """For each frame those that the rules alone have stood after it."""
        graph: nx.DiGraph[str] = nx.DiGraph()
        graph.add_nodes_from(self.frames)
        graph.add_edges_from(sure_pairs(self.house, self.direction, self.rules))
        if self.may_wait is not None and "top-of-pack" in self.rules:
            # A frame that is never set aside is stood before any frame beneath it.
            graph.add_edges_from(
                (frame, lower)
                for frame in self.frames
                if frame not in self.may_wait
                for lower in self.beneath(frame)
            )
        if not nx.is_directed_acyclic_graph(graph):
            return {frame: frozenset() for frame in self.frames}
        closed = nx.transitive_closure_dag(graph)
        return {frame: frozenset(closed.successors(frame)) for frame in self.frames}

    @cached_property
    def earlier(self) -> Later:
        """For each frame those that the rules alone have stood before it."""
        return {
            frame: frozenset(other for other in self.frames if frame in self.later[other])
            for frame in self.frames
        }

    def beneath(self, frame: str) -> tuple[str, ...]:
        """Return the frames in the layers under `frame` in its pack, from the top down."""
        scenario = self.scenario
        pack = scenario.packs[scenario.pack_of[frame]]
        depth = scenario.layer_of[frame]
        return tuple(lower for layer in pack.layers[depth + 1 :] for lower in layer)

    @cached_property
    def waiting(self) -> tuple[str, ...]:
        """The frames that may be set aside in the plans looked for."""
        return tuple(frame for frame in self.frames if self.may_wait is None or frame in self.may_wait)

    @cached_property
    def surely_waiting(self) -> frozenset[str]:
        """The frames that every plan looked for sets aside."""
        by_order = {
            frame
            for frame in self.waiting
            if "top-of-pack" in self.rules
            and any(frame in self.later[lower] for lower in self.beneath(frame))
        }
        return frozenset(by_order) | self.must_wait

    @cached_property
    def moves(self) -> int:
        """The most moves that a plan looked for can have."""
        return len(self.frames) + (len(self.waiting) if self.lifts is None else self.lifts)

    def spots_for(self, frame: str) -> tuple[Spot, ...]:
        """Return the spots that take a frame by level, length and height."""
        return tuple(spot for spot in self.spots.values() if spot.takes(self.scenario.frames[frame]))

    def narrowed(self, *, may: frozenset[str] | None, must: frozenset[str], lifts: int) -> Job:
        """Return the job for plans with just so many extra lifts and these frames set aside."""
        return replace(self, may_wait=may, must_wait=must, lifts=lifts)
