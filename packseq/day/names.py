"""The names that a journal may use: those of the scenario, and of a plan's own spots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from packseq.check.setting import spots_of
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.scenario.model import Pack, Spot
from packseq.scenario.names import KnownNames, shown


@dataclass(frozen=True)
class Names:
    """A house as its journal names it.

    Parameters
    ----------
    scenario, sha256
        The house's name, and the fingerprint of its files.
    frames
        Frames in the order of the scenario.
    packs, spots
        Packs and spots by name; the spots are the plan's own where the scenario has none.
    """

    scenario: str
    sha256: str
    frames: tuple[str, ...]
    packs: Mapping[str, Pack]
    spots: Mapping[str, Spot]

    def unknown(self, what: str, name: str) -> str:
        """Return that there is no such frame, pack or spot, with a hint at the closest name."""
        every = {"frame": self.frames, "pack": tuple(self.packs), "spot": tuple(self.spots)}[what]
        if what == "spot" and not every:
            return f"there is no spot {shown(name)}: the house has none of its own; say --plan for the plan's"
        return (
            KnownNames.of(what, every, complete=True).fault(name) or f"it is {what} {self.find(what, name)}"
        )

    def find(self, what: str, name: str) -> str | None:
        """Return a name as the scenario spells it, None where there is none."""
        every = {"frame": self.frames, "pack": tuple(self.packs), "spot": tuple(self.spots)}[what]
        return KnownNames.of(what, every, complete=True).find(name)


def names_of(house: House, plan: Plan | None) -> Names:
    """Return the names of a house, with the spots of a plan where the scenario has none."""
    scenario = house.scenario
    spots = scenario.spots if plan is None else spots_of(house, plan)
    return Names(scenario.name, scenario.sha256, tuple(scenario.frames), scenario.packs, spots)
