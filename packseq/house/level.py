"""One level studied: how its frames touch, where they stand and the way round them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from shapely import MultiLineString

from packseq.errors import Fault
from packseq.house.breaks import loose_faults, perimeter_faults
from packseq.house.joins import find_joins, overlap_faults
from packseq.house.links import Links, linked
from packseq.house.location import closing, free_ends, likely_bridges, locate, outside
from packseq.house.model import Join
from packseq.house.perimeter import Perimeter, find_perimeter
from packseq.house.runs import Pair
from packseq.scenario.model import Frame, Location, Scenario


@dataclass(frozen=True)
class Gap:
    """A declared gap between two frames, and its number in ``site.toml`` from 1."""

    frames: tuple[str, str]
    number: int

    def fault(self, text: str) -> Fault:
        """Return a fault placed at this gap."""
        return Fault(file="site.toml", text=text, column=f"gap[{self.number}].between")


@dataclass(frozen=True)
class LevelGraph:
    """What is known of one level before its reference wall is chosen.

    `links` tells which frames count as touching, declared gaps included; `inline` holds
    the pairs joined end to end in one direction. `perimeter` is None when `faults` say why.
    """

    level: int
    frames: Mapping[str, Frame]
    joins: tuple[Join, ...]
    links: Links
    inline: frozenset[Pair]
    locations: Mapping[str, Location]
    perimeter: Perimeter | None
    faults: tuple[Fault, ...]


def study_level(scenario: Scenario, level: int) -> LevelGraph:
    """Find the joins, locations and perimeter of one level, with every fault on the way."""
    frames = {name: frame for name, frame in sorted(scenario.frames.items()) if frame.level == level}
    joins = find_joins(list(frames.values()), scenario.join_gap_mm)
    touching = {frozenset(join.frames) for join in joins}
    gaps = [gap for gap in numbered_gaps(scenario) if set(gap.frames) <= set(frames)]
    links = linked(frames, [*(join.frames for join in joins), *(gap.frames for gap in gaps)])
    graph = LevelGraph(
        level=level,
        frames=frames,
        joins=joins,
        links=links,
        inline=frozenset(frozenset(join.frames) for join in joins if join.kind == "inline"),
        locations={},
        perimeter=None,
        faults=overlap_faults(list(frames.values())),
    )
    bridges = [(frames[first], frames[second]) for first, second in (gap.frames for gap in gaps)]
    bridges = closing(list(frames.values()), bridges, scenario.join_gap_mm)
    placed = _placed(graph, outside(list(frames.values()), bridges, scenario.join_gap_mm))
    if placed.perimeter is None:
        likely = likely_bridges(free_ends(frames, joins, scenario.join_gap_mm))
        boundary = outside(list(frames.values()), [*bridges, *likely], scenario.join_gap_mm)
        placed = _explained(_placed(graph, boundary), boundary)
    faults = [fault for gap in gaps for fault in _gap_faults(gap, placed, touching)]
    loose = loose_faults(
        frames, links, [name for name, kind in placed.locations.items() if kind == "external"]
    )
    return replace(placed, faults=(*placed.faults, *faults, *loose))


def numbered_gaps(scenario: Scenario) -> list[Gap]:
    """Return the declared gaps with their numbers."""
    return [Gap(frames, number) for number, frames in enumerate(scenario.gaps, start=1)]


def _placed(graph: LevelGraph, boundary: MultiLineString) -> LevelGraph:
    """Return the graph with each frame's location and, if there is one, the way round."""
    locations = locate(list(graph.frames.values()), boundary)
    externals = _externals(graph.frames, locations)
    perimeter = find_perimeter(externals, graph.links, graph.inline, boundary) if externals else None
    return replace(graph, locations=locations, perimeter=perimeter)


def _explained(graph: LevelGraph, boundary: MultiLineString) -> LevelGraph:
    """Return a graph without a perimeter with the reasons why there is none."""
    externals = _externals(graph.frames, graph.locations)
    if externals:
        faults = perimeter_faults(externals, graph.links, boundary)
    else:
        first = min(graph.frames.values(), key=lambda frame: frame.row)
        text = f"level {graph.level} has no external frames, so nothing to measure from"
        faults = [Fault(file=first.file, text=text, row=first.row)]
    return replace(graph, perimeter=None, faults=(*graph.faults, *faults))


def _gap_faults(gap: Gap, graph: LevelGraph, touching: set[Pair]) -> list[Fault]:
    """Return what is wrong with a gap: it lies between perimeter neighbours that do not touch."""
    first, second = gap.frames
    internal = [name for name in gap.frames if graph.locations[name] == "internal"]
    if internal:
        return [
            gap.fault(f"{name} is internal: a gap lies between two perimeter frames") for name in internal
        ]
    if frozenset(gap.frames) in touching or first == second:
        return [gap.fault(f"{first} and {second} already touch: there is no gap between them")]
    if graph.perimeter is None:
        return []
    names = graph.perimeter.names
    apart = abs(names.index(first) - names.index(second))
    if apart == 1 or (graph.perimeter.closed and apart == len(names) - 1):
        return []
    return [gap.fault(f"{first} and {second} are not neighbours in the perimeter")]


def _externals(frames: Mapping[str, Frame], locations: Mapping[str, Location]) -> dict[str, Frame]:
    return {name: frame for name, frame in frames.items() if locations[name] == "external"}
