"""One house to be stood in one direction: what the model needs to know before it is built."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import networkx as nx

from packseq.geometry import Ring, overlap
from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Place, Scenario, Spot
from packseq.standup.surely import sure_before

Later = Mapping[str, frozenset[str]]


def across(scenario: Scenario, ground: Ring, level: int) -> tuple[str, ...]:
    """Return the frames of a level whose lines a piece of ground covers."""
    return tuple(
        frame.name
        for frame in scenario.frames.values()
        if frame.level == level and overlap(frame.footprint, ground)
    )


@dataclass(frozen=True, slots=True)
class ShutOut:
    """Frames that, all standing, leave a carried frame no way in; `unless_aside` if it comes off its pack."""

    frame: str
    by: frozenset[str]
    unless_aside: bool


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
    for_walking
        Whether a frame may be set aside only because that saves walking.
    shut_out
        What is known so far of frames that leave another one no way in.
    begun
        Whether the job has begun: its packs are then as they are now, with one more for what lies on each
        spot.
    stood
        Frames that stand already. They are in no pack.
    left_out
        Frames that are never stood. They may lie in a pack, and be set aside.
    """

    house: House
    direction: LapDirection
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    rules: frozenset[str]
    may_wait: frozenset[str] | None = None
    must_wait: frozenset[str] = frozenset()
    lifts: int | None = None
    for_walking: bool = False
    shut_out: tuple[ShutOut, ...] = ()
    begun: bool = False
    stood: frozenset[str] = frozenset()
    left_out: frozenset[str] = frozenset()

    @property
    def scenario(self) -> Scenario:
        """The scenario that the house was derived from."""
        return self.house.scenario

    @cached_property
    def frames(self) -> tuple[str, ...]:
        """Every frame, in the order of frames.csv."""
        return tuple(self.scenario.frames)

    @cached_property
    def todo(self) -> tuple[str, ...]:
        """The frames that are to be stood."""
        return tuple(frame for frame in self.frames if frame not in self.stood and frame not in self.left_out)

    @cached_property
    def cleared(self) -> frozenset[str]:
        """Frames left out that lie over one that is to be stood, or in a pack across its line."""
        todo, pack_of = frozenset(self.todo), self.scenario.pack_of
        return frozenset(
            frame
            for frame in self.left_out
            if frame in pack_of and not todo.isdisjoint((*self.beneath(frame), *self._under_pack(frame)))
        )

    @cached_property
    def moved(self) -> tuple[str, ...]:
        """The frames that a plan lifts: those that are to be stood, and those that lie in their way."""
        todo = frozenset(self.todo)
        return tuple(frame for frame in self.frames if frame in todo or frame in self.cleared)

    @cached_property
    def later(self) -> Later:
        """For each frame those that the rules alone have stood after it."""
        graph: nx.DiGraph[str] = nx.DiGraph()
        graph.add_nodes_from(self.frames)
        graph.add_edges_from(self._sure())
        if self.may_wait is not None and "top-of-pack" in self.rules:
            # A frame that is never set aside is stood before any frame beneath it.
            graph.add_edges_from(
                (frame, lower)
                for frame in self.todo
                if frame not in self.may_wait
                for lower in self.beneath(frame)
            )
        if not nx.is_directed_acyclic_graph(graph):
            return {frame: frozenset() for frame in self.frames}
        closed = nx.transitive_closure_dag(graph)
        return {frame: frozenset(closed.successors(frame)) for frame in self.frames}

    def _sure(self) -> Iterator[tuple[str, str]]:
        """Yield pairs, one surely before the other: what stands first, what never stands last."""
        needed = sure_before(self.house, self.direction, self.rules)
        for frame in self.todo:
            yield from ((other, frame) for other in self.todo if other in needed[frame])
            yield from ((other, frame) for other in self.frames if other in self.stood)
            yield from ((frame, other) for other in self.frames if other in self.left_out)

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
        return tuple(
            frame
            for frame in self.moved
            if frame in self.cleared
            or self.for_walking
            or ((self.may_wait is None or frame in self.may_wait) and self.could_wait(frame))
        )

    def could_wait(self, frame: str) -> bool:
        """Tell whether this frame may have to be set aside.

        So it may if some frame beneath it could be stood first, if its pack lies where a frame must
        stand that could be stood before it, or if it is known to be shut out from its pack.
        """
        return (
            any(lower not in self.later[frame] for lower in self.beneath(frame))
            or any(other not in self.later[frame] for other in self._under_pack(frame) if other != frame)
            or any(known.frame == frame and known.unless_aside for known in self.shut_out)
        )

    def _under_pack(self, frame: str) -> tuple[str, ...]:
        """Return the frames whose lines the pack of a frame lies across."""
        if "ground-clear" not in self.rules:
            return ()
        return tuple(other for other in self.across[self.scenario.pack_of[frame]] if other not in self.stood)

    @cached_property
    def across(self) -> Mapping[str, tuple[str, ...]]:
        """For each pack the frames whose lines it lies across."""
        return {
            pack.name: across(self.scenario, pack.footprint(self.places[pack.name]), pack.level)
            for pack in self.scenario.packs.values()
        }

    @cached_property
    def surely_waiting(self) -> frozenset[str]:
        """The frames that every plan looked for sets aside."""
        by_order = {
            frame
            for frame in self.waiting
            if "top-of-pack" in self.rules
            and any(frame in self.later[lower] for lower in self.beneath(frame))
        }
        return frozenset(by_order) | self.must_wait | self.cleared

    @cached_property
    def moves(self) -> int:
        """The most moves that a plan looked for can have."""
        return len(self.todo) + (len(self.waiting) if self.lifts is None else self.lifts)

    def spots_for(self, frame: str) -> tuple[Spot, ...]:
        """Return the spots that take a frame by level, length and height."""
        return tuple(spot for spot in self.spots.values() if spot.takes(self.scenario.frames[frame]))

    def as_few_as(self, lifts: int) -> Job:
        """Return the job for all plans with just so many extra lifts."""
        return self.narrowed(may=None, must=frozenset(), lifts=lifts)

    def narrowed(self, *, may: frozenset[str] | None, must: frozenset[str], lifts: int) -> Job:
        """Return the job for plans with just so many extra lifts and these frames set aside."""
        return replace(self, may_wait=may, must_wait=must, lifts=lifts)
