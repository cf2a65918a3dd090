"""Small houses to be loaded: a ring of frames of any lengths, landing places and spots with room for all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from small_house import frame, house_of, round_touches

from packseq.house.derive import derive_house
from packseq.house.model import House, LevelHouse
from packseq.plan.load import LaidLayer, LaidPack
from packseq.scenario.loadlimits import Deck, LoadLimits
from packseq.scenario.model import Landing, Lap, Place, Scenario, Spot, StandChoices
from packseq.scenario.read import read_scenario
from packseq.scenario.stacks import pack_of_layers

SCENARIOS = Path(__file__).parents[2] / "scenarios"
FAR = -20_000.0

# Six frames round a hut of 5 m by 4 m; the reference wall is S1 and S2.
SIX_LINES = {
    "S1": ((0.0, 0.0), (3000.0, 0.0)),
    "S2": ((3000.0, 0.0), (5000.0, 0.0)),
    "E1": ((5000.0, 0.0), (5000.0, 4000.0)),
    "N1": ((5000.0, 4000.0), (1000.0, 4000.0)),
    "N2": ((1000.0, 4000.0), (0.0, 4000.0)),
    "W1": ((0.0, 4000.0), (0.0, 0.0)),
}
SIX = tuple(SIX_LINES)


def landing(
    name: str, *, at: tuple[float, float] = (0.0, FAR), level: int = 1, most_kg: float | None = None
) -> Landing:
    return Landing(name, level, (Place(at, 0.0),), 0, most_kg)


def leans() -> tuple[Spot, ...]:
    return tuple(
        Spot(name, 1, (x, FAR), 0.0, (9000.0, 2400.0), "lean", 9)
        for name, x in (("L1", 20_000.0), ("L2", -20_000.0))
    )


def six(
    *,
    places: Sequence[Landing] = (),
    limits: LoadLimits | None = None,
    masses: Mapping[str, float] | None = None,
    heights: Mapping[str, float] | None = None,
    lap: Lap = "one-way",
    decks: Sequence[Deck] = (),
) -> House:
    """Return the hut of six, its frames in one layer of pack A; 60 kg and 2400 mm each unless told."""
    heavy, tall = masses or {}, heights or {}
    frames = [
        frame(name, line, mass_kg=heavy.get(name, 60.0), height_mm=tall.get(name, 2400.0))
        for name, line in SIX_LINES.items()
    ]
    level = LevelHouse(1, SIX, ("S1", "S2"), closed=True, internals=())
    there = places or (landing("A"), landing("B", at=(0.0, FAR - 6000)))
    first = pack_of_layers(there[0], [SIX], {each.name: each for each in frames})
    house = house_of(
        frames,
        (first,),
        (level,),
        round_touches(SIX),
        spots=leans(),
        stand=StandChoices(lap=lap),
    )
    scenario = replace(
        house.scenario,
        landings={each.name: each for each in there},
        load=limits or LoadLimits(),
        decks=tuple(decks),
    )
    return replace(house, scenario=scenario)


def pack(name: str, text: str) -> LaidPack:
    """Return a pack from a line such as ``S1 N2+S2 W1|E1``: from the top, + end to end, | side by side."""
    layers = []
    for word in text.split():
        beside = "|" in word
        layers.append(LaidLayer(tuple(word.split("|" if beside else "+")), beside))
    return LaidPack(name, tuple(layers))


def limited(scenario: Scenario, limits: LoadLimits) -> Scenario:
    return replace(scenario, load=limits)


def demo(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))
