"""Two tiny houses made by hand, so that these tests rest on nothing that reads or derives.

Their frames are open from end to end unless told otherwise, so that nobody has to walk round them and
every walk is a straight line.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from packseq.check import replay
from packseq.house.model import House, LevelHouse
from packseq.plan.build import Step, build_plan
from packseq.plan.model import Plan
from packseq.scenario.model import (
    Crew,
    Frame,
    Location,
    Opening,
    Pack,
    Place,
    Scenario,
    Spot,
    StandChoices,
)

Line = tuple[tuple[float, float], tuple[float, float]]
Layers = Sequence[Sequence[str]]

# A hut of four frames, 6 m by 8 m: single frames, so the reference wall is S1 alone.
HUT_LINES: Mapping[str, Line] = {
    "S1": ((0, 0), (6000, 0)),
    "E1": ((6000, 0), (6000, 8000)),
    "N1": ((6000, 8000), (0, 8000)),
    "W1": ((0, 8000), (0, 0)),
}
HUT_ROUND = ("S1", "E1", "N1", "W1")

# A square room of 4 m: two frames a side, S1 and S2 the reference wall, and an internal
# frame I1 from the middle of S2 to the middle of N1.
ROOM_LINES: Mapping[str, Line] = {
    "S1": ((0, 0), (2000, 0)),
    "S2": ((2000, 0), (4000, 0)),
    "E1": ((4000, 0), (4000, 2000)),
    "E2": ((4000, 2000), (4000, 4000)),
    "N1": ((4000, 4000), (2000, 4000)),
    "N2": ((2000, 4000), (0, 4000)),
    "W1": ((0, 4000), (0, 2000)),
    "W2": ((0, 2000), (0, 0)),
    "I1": ((3000, 0), (3000, 4000)),
}
ROOM_ROUND = ("S1", "S2", "E1", "E2", "N1", "N2", "W1", "W2")
ROOM_TOUCHES = {"I1": ("N1", "S2")}


def frame(
    name: str,
    line: Line,
    *,
    level: int = 1,
    mass_kg: float = 60.0,
    height_mm: float = 2400,
    solid: bool = False,
) -> Frame:
    location: Location = "internal" if "I" in name else "external"
    hole = Opening("opening", 0, math.dist(*line), 0, 10_000)
    openings = () if solid else (hole,)
    return Frame(name, level, *line, height_mm, 90, location, mass_kg, False, openings, 2)


def pack(
    name: str,
    at: tuple[float, float],
    layers: Layers,
    *,
    level: int = 1,
    holds: int = 0,
    places: int = 1,
    length_mm: float = 8000,
) -> Pack:
    """Return a pack; its further places lie 1 m on along x each."""
    where = tuple(Place((at[0] + 1000 * step, at[1]), 0.0) for step in range(places))
    numbers = tuple(range(1, len(layers) + 1))
    return Pack(name, level, where, holds, tuple(map(tuple, layers)), numbers, length_mm, 2400)


def pile(name: str = "P", at: tuple[float, float] = (0, -4000), holds: int = 9, level: int = 1) -> Spot:
    return Spot(name, level, at, 0.0, (8000, 2400), "pile", holds)


def lean(name: str = "L", at: tuple[float, float] = (0, -4000), holds: int = 9, level: int = 1) -> Spot:
    return Spot(name, level, at, 0.0, (8000, 2400), "lean", holds)


def house_of(
    frames: Sequence[Frame],
    packs: Sequence[Pack],
    levels: Sequence[LevelHouse],
    touches: Mapping[str, tuple[str, ...]],
    *,
    spots: Sequence[Spot] = (),
    stand: StandChoices | None = None,
    people: int = 4,
) -> House:
    scenario = Scenario(
        name="small house",
        slab=((0, 0), (6000, 0), (6000, 8000), (0, 8000)),
        frames={each.name: each for each in frames},
        packs={each.name: each for each in packs},
        crew=Crew(people),
        spots={each.name: each for each in spots},
        stand=stand or StandChoices(),
        sha256="ab12",
    )
    locations: dict[str, Location] = {each.name: each.location or "external" for each in frames}
    return House(scenario, locations, (), (), tuple(levels), touches)


def round_touches(
    perimeter: Sequence[str], more: Mapping[str, tuple[str, ...]] | None = None
) -> dict[str, tuple[str, ...]]:
    """Return what touches what: neighbours round the perimeter, and `more` both ways."""
    touches: dict[str, set[str]] = {name: set() for name in perimeter}
    for place, name in enumerate(perimeter):
        touches[name].add(perimeter[place - 1])
        touches[perimeter[place - 1]].add(name)
    for name, others in (more or {}).items():
        for other in others:
            touches.setdefault(name, set()).add(other)
            touches[other].add(name)
    return {name: tuple(sorted(others)) for name, others in touches.items()}


def hut(
    layers: Layers = (("W1",), ("S1",), ("E1",), ("N1",)),
    *,
    spots: Sequence[Spot] = (),
    stand: StandChoices | None = None,
    masses: Mapping[str, float] | None = None,
    packs: Sequence[Pack] = (),
    people: int = 4,
    solid: bool = False,
) -> House:
    """Return the hut; its frames come in pack A at (6000, -4000) unless packs are given."""
    heavy = masses or {}
    frames = [
        frame(name, line, mass_kg=heavy.get(name, 60.0), solid=solid) for name, line in HUT_LINES.items()
    ]
    level = LevelHouse(1, HUT_ROUND, ("S1",), closed=True, internals=())
    return house_of(
        frames,
        packs or (pack("A", (6000, -4000), layers),),
        (level,),
        round_touches(HUT_ROUND),
        spots=spots,
        stand=stand,
        people=people,
    )


def room(
    packs: Sequence[Pack] = (),
    *,
    spots: Sequence[Spot] = (),
    stand: StandChoices | None = None,
    untouching: frozenset[str] = frozenset(),
    solid: bool = False,
) -> House:
    """Return the room; its frames come side by side in one layer of pack A unless packs are given.

    `untouching` names two neighbours that do not touch after all.
    """
    frames = [frame(name, line, solid=solid) for name, line in ROOM_LINES.items()]
    level = LevelHouse(1, ROOM_ROUND, ("S1", "S2"), closed=True, internals=("I1",))
    touches = {
        name: tuple(other for other in others if not untouching or {name, other} != untouching)
        for name, others in round_touches(ROOM_ROUND, ROOM_TOUCHES).items()
    }
    one_layer = (pack("A", (2000, -3000), [list(ROOM_LINES)]),)
    return house_of(frames, packs or one_layer, (level,), touches, spots=spots, stand=stand)


def site_wall(*, stand: StandChoices | None = None) -> House:
    """Return one straight wall of three frames: all perimeter, all reference wall, never closed."""
    names = ("A1", "A2", "A3")
    frames = [frame(name, ((2000 * place, 0), (2000 * place + 2000, 0))) for place, name in enumerate(names)]
    touches = {"A1": ("A2",), "A2": ("A1", "A3"), "A3": ("A2",)}
    level = LevelHouse(1, names, names, closed=False, internals=())
    return house_of(frames, (pack("A", (0, -3000), [names]),), (level,), touches, stand=stand)


def two_floors(*, spots: Sequence[Spot] = (), stand: StandChoices | None = None) -> House:
    """Return the hut with the same hut on top of it, its frames named with a leading U."""
    lower = [frame(name, line) for name, line in HUT_LINES.items()]
    upper = [frame(f"U{name}", line, level=2) for name, line in HUT_LINES.items()]
    above = tuple(f"U{name}" for name in HUT_ROUND)
    levels = (
        LevelHouse(1, HUT_ROUND, ("S1",), closed=True, internals=()),
        LevelHouse(2, above, ("US1",), closed=True, internals=()),
    )
    packs = (
        pack("A", (6000, -4000), [HUT_ROUND]),
        pack("B", (3000, 4000), [("UW1",), ("US1", "UE1", "UN1")], level=2, length_mm=5000),
    )
    touches = round_touches(HUT_ROUND) | round_touches(above)
    return house_of([*lower, *upper], packs, levels, touches, spots=spots, stand=stand)


def steps(text: str) -> tuple[Step, ...]:
    """Return steps from a line such as ``W1>P S1 E1>B+ N1``.

    A bare name is stood, ``>`` sets it aside on a spot, ``>B+`` on top of pack B.
    """
    made = []
    for word in text.split():
        name, arrow, target = word.partition(">")
        if not arrow:
            made.append(Step("stand", name))
        elif target.endswith("+"):
            made.append(Step("set aside", name, to_pack=target[:-1]))
        else:
            made.append(Step("set aside", name, to_spot=target))
    return tuple(made)


def plan_of(house: House, text: str, *, spots: Sequence[Spot] | None = None) -> Plan:
    """Return the plan of a line of steps; packs lie at their first places."""
    scenario = house.scenario
    there = scenario.spots if spots is None else {spot.name: spot for spot in spots}
    places = {name: each.places[0] for name, each in scenario.packs.items()}
    return build_plan(house, steps(text), spots=there, places=places)


def broken(house: House, text: str) -> set[tuple[str, int | None]]:
    """Return the broken rules of a line of steps, each with its move.

    An order that fits neither direction is stated to go the way that the replay takes it, so
    that only the rules speak.
    """
    plan = plan_of(house, text)
    if plan.direction is None:
        plan = plan.model_copy(update={"direction": replay(house, plan).job.direction})
    return {(each.rule, each.move_number) for each in replay(house, plan).violations}
