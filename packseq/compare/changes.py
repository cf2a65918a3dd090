"""What is tried in place of the scenario's own choices: one thing at a time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal, get_args

from packseq.house.model import House
from packseq.plan.model import LapDirection
from packseq.scenario.model import Crew, Lap, Pack, Place, StandChoices

What = Literal["lap", "direction", "hold_open", "place", "people"]

HELD_OPEN = (0, 1, 2)
"""How many frames may be held open, as compared."""

_LOOSENESS: Mapping[Lap, int] = {"one-way": 0, "both-ways": 1, "free": 2}
"""Every plan of a lap is one of a looser lap too."""


@dataclass(frozen=True)
class Change:
    """One change of a job.

    Parameters
    ----------
    what
        The choice that is changed.
    value
        What it is changed to: ``both-ways``, ``2``, ``B place 2``.
    name
        The change as a row is headed.
    doing
        The change as a sentence begins.
    house
        The house with the change made.
    narrows
        Whether every plan that keeps the rules after the change keeps them before it: then a plan and
        its bounds from before are as good after it, if the plan is allowed.
    """

    what: What
    value: str
    name: str
    doing: str
    house: House
    narrows: bool


def stand_changes(house: House) -> Iterator[Change]:
    """Yield the other laps, the directions, and other numbers of frames held open."""
    own = house.scenario.stand
    for lap in get_args(Lap):
        if lap != own.lap:
            narrows = _LOOSENESS[lap] < _LOOSENESS[own.lap]
            about = {"one-way": "One-way lap", "both-ways": "Both-ways lap", "free": "Free lap"}[lap]
            doing = f"A {about[0].lower()}{about[1:]}"
            yield Change("lap", lap, about, doing, _standing(house, replace(own, lap=lap)), narrows)
    for direction in get_args(LapDirection):
        if direction != own.direction:
            other = _standing(house, replace(own, direction=direction))
            name, narrows = direction.capitalize(), own.direction == "auto"
            yield Change("direction", direction, name, f"Going {direction}", other, narrows)
    if own.internals_any_time or not any(level.internals for level in house.levels):
        return
    for count in HELD_OPEN:
        if count != own.hold_open:
            words = "no frame" if count == 0 else f"at most {count} frame{'s' if count > 1 else ''}"
            other = _standing(house, replace(own, hold_open=count))
            narrows = count < own.hold_open
            yield Change(
                "hold_open", str(count), f"Hold open {words}", f"Holding {words} open", other, narrows
            )


def landing_changes(house: House, chosen: Mapping[str, Place]) -> Iterator[Change]:
    """Yield every place of each pack that has several, the other packs staying where they were chosen.

    Then, where that is none of these, every pack at its first place.
    """
    packs = house.scenario.packs
    several = [pack for pack in packs.values() if len(pack.places) > 1]
    for pack in several:
        for number, place in enumerate(pack.places, 1):
            where = f"pack {pack.name} at place {number} (x {place.at[0]:.0f}, y {place.at[1]:.0f})"
            yield Change(
                "place",
                f"{pack.name} place {number}",
                f"P{where[1:]}",
                f"Landing {where}",
                _landed(house, {**chosen, pack.name: place}),
                narrows=True,
            )
    if sum(chosen[pack.name] != pack.places[0] for pack in several) > 1:
        first = {name: pack.places[0] for name, pack in packs.items()}
        name = "Every pack at its first place"
        doing = "Landing every pack at its first place"
        yield Change("place", "first places", name, doing, _landed(house, first), narrows=True)


def crew_changes(house: House) -> Iterator[Change]:
    """Yield a crew of one fewer, of one more, and of as many as the heaviest frame needs.

    Teams go by masses alone, so a larger crew changes nothing where every frame can be lifted.
    """
    crew = house.scenario.crew
    most = max(crew.team(frame.mass_kg) for frame in house.scenario.frames.values())
    for people in sorted({crew.people - 1, crew.people + 1, max(most, crew.people)} - {0, crew.people}):
        other = replace(house, scenario=replace(house.scenario, crew=Crew(people, crew.share_kg)))
        narrows = people < crew.people or most <= crew.people
        yield Change("people", str(people), f"Crew of {people}", f"A crew of {people}", other, narrows)


def _standing(house: House, stand: StandChoices) -> House:
    return replace(house, scenario=replace(house.scenario, stand=stand))


def _landed(house: House, places: Mapping[str, Place]) -> House:
    packs: dict[str, Pack] = {
        name: replace(pack, places=(places[name],)) for name, pack in house.scenario.packs.items()
    }
    return replace(house, scenario=replace(house.scenario, packs=packs))
