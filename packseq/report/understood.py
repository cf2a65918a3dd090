"""What was understood of a scenario: the whole answer of ``packseq check``, part by part."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import RenderableType

from packseq.house.doubts import doubtful_ends
from packseq.house.model import House, LevelHouse
from packseq.report.frames import frames_section, walls_section
from packseq.report.layout import bullets, listing, section
from packseq.report.stacks import packs_section, spots_section
from packseq.report.words import counted, names
from packseq.routes.doorways import blocked_ways_in
from packseq.scenario.model import Lap, Scenario

_LAPS: dict[Lap, str] = {
    "one-way": "on round the building in one direction",
    "both-ways": "one unbroken stretch that grows at either end",
    "free": "any order that keeps the other rules",
}


def understood_house(house: House) -> tuple[RenderableType, ...]:
    """Return what was understood of a job, headline first."""
    return (
        _headline(house),
        *_doubts(house),
        section("How it is to stand", bullets(_choices(house))),
        walls_section(house),
        frames_section(house),
        packs_section(house.scenario),
        spots_section(house.scenario),
    )


def crew_warnings(scenario: Scenario) -> tuple[str, ...]:
    """Return a line for each frame that needs more people than the crew has."""
    crew = scenario.crew
    return tuple(
        f"crew-lift: {frame.name} ({'about ' if frame.mass_is_estimate else ''}{frame.mass_kg:.1f} kg) needs "
        f"{crew.team(frame.mass_kg)} people at {crew.share_kg:g} kg each; the crew has {crew.people}"
        for frame in scenario.frames.values()
        if crew.team(frame.mass_kg) > crew.people
    )


def warnings_of(house: House) -> tuple[str, ...]:
    """Return a line for all that is understood but will not work as it is."""
    return (*crew_warnings(house.scenario), *blocked_ways_in(house))


def _headline(house: House) -> RenderableType:
    scenario = house.scenario
    external = sum(location == "external" for location in house.locations.values())
    frames = scenario.frames.values()
    estimated = sum(frame.mass_is_estimate for frame in frames)
    heaviest = max(frames, key=lambda frame: frame.mass_kg)
    count = (
        f"{scenario.name}: {counted(len(frames), 'frame')} on {counted(len(house.levels), 'level')}, "
        f"{external} external and {len(frames) - external} internal, "
        f"in {counted(len(scenario.packs), 'pack')}."
    )
    mass = (
        f"{sum(frame.mass_kg for frame in frames):.0f} kg in all; the heaviest is {heaviest.name}, "
        f"{heaviest.mass_kg:.1f} kg. {_estimates(estimated)}"
    )
    crew = (
        f"{counted(scenario.crew.people, 'person', 'people')} on site, "
        f"each taking at most {scenario.crew.share_kg:g} kg of a frame."
    )
    warnings = (f"WARNING, {warning}." for warning in warnings_of(house))
    return listing([count, mass, crew, *warnings])


def _doubts(house: House) -> Iterator[RenderableType]:
    doubts = doubtful_ends(house)
    if doubts:
        yield section("Look at these on the plan: slips, or meant so?", bullets(doubts))


def _estimates(count: int) -> str:
    if count == 0:
        return "Every mass is as given."
    have = "1 mass is an estimate" if count == 1 else f"{count} masses are estimates"
    return f"{have}, marked * below."


def _choices(house: House) -> Iterator[str]:
    scenario = house.scenario
    stand = scenario.stand
    direction = "clockwise or anticlockwise, whichever is better"
    if stand.direction != "auto":
        direction = stand.direction
    for level in house.levels:
        yield from _level(house, level)
    yield f"Lap: {stand.lap}: {_LAPS[stand.lap]}; {direction}."
    if stand.internals_any_time:
        yield "Internal frames: at any time."
    else:
        yield (
            "Internal frames: after the perimeter, of which "
            f"at most {counted(stand.hold_open, 'frame')} may be held open until then."
        )
    if stand.lift_worth_m:
        yield f"One extra lift counts as {stand.lift_worth_m:g} m of walking."
    else:
        yield "Fewest extra lifts come first, whatever the walking."
    for first, second in scenario.gaps:
        yield (
            f"Gap: {first} and {second} are neighbours in the perimeter with an opening between them. "
            "Whichever stands across it is a free-standing frame."
        )
    if scenario.no_go:
        yield f"No-go: {counted(len(scenario.no_go), 'area')} that nobody walks across."


def _level(house: House, level: LevelHouse) -> Iterator[str]:
    where = f"Level {level.level}: " if len(house.levels) > 1 else ""
    run = house.run_of[level.reference[0]]
    length = f", {run.length_mm / 1000:.2f} m" if len(run.frames) == len(level.reference) else ""
    chosen = "as told" if house.scenario.stand.reference else "the longest straight external run"
    yield f"{where}Reference wall: {run.name}{length}, {chosen}: {names(level.reference)}."
    if level.closed:
        yield f"{where}Perimeter, anticlockwise: {names(level.perimeter)}."
    else:
        yield f"{where}The perimeter is that one straight wall."
