"""The names that a journal may use: those of the scenario, and of a plan's own spots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from packseq.check.setting import spots_of
from packseq.house.model import House
from packseq.plan.model import Plan
from packseq.scenario.model import Frame, Pack, Spot
from packseq.scenario.names import KnownNames, shown

NameKind = Literal["frame", "pack", "spot"]


@dataclass(frozen=True)
class Names:
    """A house as its journal names it.

    Parameters
    ----------
    scenario, sha256
        The house's name, and the fingerprint of its files.
    frames
        Frames by name, in the order of the scenario.
    packs, spots
        Packs and spots by name; the spots are the plan's own where the scenario has none.
    """

    scenario: str
    sha256: str
    frames: Mapping[str, Frame]
    packs: Mapping[str, Pack]
    spots: Mapping[str, Spot]

    def unknown(self, what: NameKind, name: str) -> str | None:
        """Return that there is no such frame, pack or spot, with a hint at the closest; None if there is."""
        if what == "spot" and not self.spots:
            return f"there is no spot {shown(name)}: the house has none of its own; say --plan for the plan's"
        return self._known(what).fault(name)

    def spelled(self, what: NameKind, name: str) -> str:
        """Return a name as the scenario spells it, or as it is where there is no such name."""
        return self._known(what).find(name) or name

    def _known(self, what: NameKind) -> KnownNames:
        match what:
            case "frame":
                return KnownNames.of(what, self.frames, complete=True)
            case "pack":
                return KnownNames.of(what, self.packs, complete=True)
            case "spot":
                return KnownNames.of(what, self.spots, complete=True)


def names_of(house: House, plan: Plan | None) -> Names:
    """Return the names of a house, with the spots of a plan where the scenario has none."""
    scenario = house.scenario
    spots = scenario.spots if plan is None else spots_of(house, plan)
    return Names(scenario.name, scenario.sha256, scenario.frames, scenario.packs, spots)
