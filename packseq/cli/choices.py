"""What a command may choose in place of the scenario's own ``[stand]`` table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import get_args

from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.model import Direction, Lap
from packseq.scenario.read import read_scenario


@dataclass(frozen=True, slots=True)
class Choices:
    """A lap and a direction; None leaves the scenario's own."""

    lap: Lap | None = None
    direction: Direction | None = None

    def __str__(self) -> str:
        options = (("--lap", self.lap), ("--direction", self.direction))
        return " ".join(f"{option} {value}" for option, value in options if value is not None)

    def applied(self, house: House) -> House:
        """Return a house to be stood by these choices; what was derived from geometry stays."""
        own = house.scenario.stand
        stand = replace(own, lap=self.lap or own.lap, direction=self.direction or own.direction)
        return replace(house, scenario=replace(house.scenario, stand=stand))


def every_choice() -> Iterator[Choices]:
    """Yield every choice there is, those that say less first."""
    laps: tuple[Lap | None, ...] = (None, *get_args(Lap))
    directions: tuple[Direction | None, ...] = (None, *get_args(Direction))
    pairs = ((lap, direction) for lap in laps for direction in directions)
    for lap, direction in sorted(pairs, key=lambda pair: sum(value is not None for value in pair)):
        yield Choices(lap, direction)


def read_house(folder: Path, choices: Choices | None = None) -> House:
    """Read a scenario folder and derive its house.

    Raises
    ------
    InputError
        With every fault found.
    """
    house = derive_house(read_scenario(folder))
    return house if choices is None else choices.applied(house)
