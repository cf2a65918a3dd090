"""From a scenario to its house graph: joins, locations, perimeter, reference walls and runs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from packseq.errors import Fault, InputError
from packseq.house.level import LevelGraph, numbered_gaps, study_level
from packseq.house.model import House, LevelHouse, Run
from packseq.house.names import name_runs
from packseq.house.reference import given_run, internal_faults, longest_run, site_wall_fault
from packseq.house.runs import internal_runs, split_into_runs
from packseq.house.shapes import Leg
from packseq.scenario.model import Scenario

_Passed = TypeVar("_Passed")


@dataclass(frozen=True)
class _Laid:
    """One level with its reference wall chosen and its runs named."""

    house: LevelHouse
    runs: tuple[Run, ...]


def derive_house(scenario: Scenario) -> House:
    """Derive the house graph of a scenario.

    Every level stands for itself: only its own frames touch one another, and it has its
    own perimeter and reference wall (docs/rules.md, level-order). The order of the frames
    in their file and which end of a frame is end 1 make no difference.

    Raises
    ------
    InputError
        With every fault found: frames that overlap, touch nothing or stand apart; a
        perimeter that is open, branches or comes in several rings; gaps that are none;
        reference walls that are not one straight external run.
    """
    graphs = [study_level(scenario, level) for level in scenario.levels]
    faults = [fault for graph in graphs for fault in graph.faults]
    faults += _gaps_between_levels(scenario)
    laid = []
    for graph in graphs:
        result = _lay(scenario, graph)
        if isinstance(result, _Laid):
            laid.append(result)
        else:
            faults += result
    if faults:
        raise InputError(
            sorted(faults, key=lambda fault: (fault.file, fault.row or 0, fault.column or "", fault.text))
        )
    touches = {name: tuple(sorted(graph.links[name])) for graph in graphs for name in graph.frames}
    locations = {name: location for graph in graphs for name, location in graph.locations.items()}
    return House(
        scenario=scenario,
        locations=MappingProxyType({name: locations[name] for name in scenario.frames}),
        joins=tuple(sorted((join for graph in graphs for join in graph.joins), key=lambda join: join.frames)),
        runs=tuple(run for level in laid for run in level.runs),
        levels=tuple(level.house for level in laid),
        touches=MappingProxyType({name: touches[name] for name in scenario.frames}),
    )


def _lay(scenario: Scenario, graph: LevelGraph) -> _Laid | list[Fault]:
    """Choose the reference wall of a level and name its runs, or say what is wrong with the one given."""
    given = [name for name in scenario.stand.reference or () if name in graph.frames]
    faults = internal_faults(given, graph.locations)
    if faults or graph.perimeter is None:
        return faults
    legs, closed = graph.perimeter
    external = split_into_runs(legs, graph.inline, closed=closed)
    reference = given_run(given, external) if given else longest_run(external)
    if isinstance(reference, Fault):
        return [reference]
    names = graph.perimeter.names
    if not closed and len(reference) < len(names):
        return [site_wall_fault(reference, names)]
    internals = sorted(set(graph.frames) - set(names))
    return _Laid(
        house=LevelHouse(
            level=graph.level,
            perimeter=_beginning_at(names.index(reference[0]), names),
            reference=reference,
            closed=closed,
            internals=tuple(internals),
        ),
        runs=name_runs(
            _beginning_at(_place_of(reference[0], external), external),
            internal_runs([graph.frames[name] for name in internals], graph.inline),
            prefix=f"level {graph.level} " if len(scenario.levels) > 1 else "",
        ),
    )


def _gaps_between_levels(scenario: Scenario) -> list[Fault]:
    """Return a fault for each declared gap whose two frames stand on different levels."""
    faults = []
    for gap in numbered_gaps(scenario):
        first, second = (scenario.frames[name] for name in gap.frames)
        if first.level != second.level:
            text = f"{first.name} is on level {first.level} and {second.name} on level {second.level}"
            faults.append(gap.fault(f"{text}: a gap lies between two frames of one level"))
    return faults


def _place_of(name: str, runs: Sequence[Sequence[Leg]]) -> int:
    """Return which of the runs holds a frame, from 0."""
    return next(place for place, run in enumerate(runs) if name in {leg.frame.name for leg in run})


def _beginning_at(place: int, ring: Sequence[_Passed]) -> tuple[_Passed, ...]:
    """Return a ring's members in order, beginning at another place."""
    return (*ring[place:], *ring[:place])
