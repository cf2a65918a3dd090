"""What the search for a load needs to know: frames in whole numbers, landing places, limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from packseq.check.loading.rules import most_kg_at
from packseq.geometry import whole_mm
from packseq.house.model import House
from packseq.plan.load import grams
from packseq.plan.model import LapDirection
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.loadtable import joined_groups
from packseq.scenario.model import Landing, Scenario
from packseq.scenario.stacks import pack_of_layers


@dataclass(frozen=True)
class LoadJob:
    """A house to be loaded, on which landing places, for standing in which direction.

    Parameters
    ----------
    house
        The house; the packs of its scenario are not looked at.
    direction
        Order in which the reference wall is stood, and the lap if it is one-way.
    packs
        For each level the most packs that may be made for it.
    """

    house: House
    direction: LapDirection
    packs: Mapping[int, int]

    @property
    def scenario(self) -> Scenario:
        """The scenario that the house was derived from."""
        return self.house.scenario

    @property
    def limits(self) -> LoadLimits:
        """The limits of every pack."""
        return self.scenario.load

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Every frame, in the order of its file."""
        return tuple(self.scenario.frames)

    @cached_property
    def landings(self) -> Mapping[str, Landing]:
        """The landing places by name."""
        return landings_of(self.scenario)

    @cached_property
    def length_mm(self) -> Mapping[str, int]:
        """Length of each frame in whole mm."""
        return {name: whole_mm(frame.length_mm) for name, frame in self.scenario.frames.items()}

    @cached_property
    def width_mm(self) -> Mapping[str, int]:
        """Height of each frame, which lies across the pack, in whole mm."""
        return {name: whole_mm(frame.height_mm) for name, frame in self.scenario.frames.items()}

    @cached_property
    def grams(self) -> Mapping[str, int]:
        """Mass of each frame in whole grams."""
        return {name: grams(frame) for name, frame in self.scenario.frames.items()}

    @cached_property
    def thickness_mm(self) -> Mapping[str, int]:
        """Thickness of each frame in whole mm, rounded up so that no pack grows too high."""
        return {name: -int(-frame.thickness_mm // 1) for name, frame in self.scenario.frames.items()}

    @cached_property
    def together(self) -> tuple[frozenset[str], ...]:
        """The frames that must lie in one pack, groups that share a frame made one."""
        return joined_groups(self.limits.together)

    @cached_property
    def most_grams(self) -> Mapping[str, int]:
        """The most mass of the pack that is landed at each place, in whole grams."""
        return {name: int(most_kg_at(self.scenario, name) * 1000 + 1e-6) for name in self.landings}

    @cached_property
    def frames_of(self) -> Mapping[int, tuple[str, ...]]:
        """The frames of each level, in the order of their file."""
        frames = self.scenario.frames.values()
        return {
            level: tuple(frame.name for frame in frames if frame.level == level)
            for level in self.scenario.levels
        }

    @cached_property
    def landings_on(self) -> Mapping[int, tuple[Landing, ...]]:
        """The landing places of each level, in the order of site.toml."""
        return {
            level: tuple(landing for landing in self.landings.values() if landing.level == level)
            for level in self.scenario.levels
        }

    @cached_property
    def most_layers(self) -> Mapping[int, int]:
        """The most layers that a pack of each level can have by count and by height."""
        room_mm = self.limits.most_height_mm - self.limits.bearer_mm
        return {
            level: min(
                self.limits.most_layers,
                int(room_mm // min(self.thickness_mm[name] for name in names)),
                len(names),
            )
            for level, names in self.frames_of.items()
        }

    @property
    def waits_on_packs(self) -> bool:
        """Whether frames that are set aside can wait nowhere but on other packs."""
        return not self.scenario.spots and any(landing.holds for landing in self.landings.values())

    def with_limits(self, limits: LoadLimits) -> LoadJob:
        """Return the job under other limits."""
        return replace(self, house=limited(self.house, limits))


def limited(house: House, limits: LoadLimits) -> House:
    """Return a house whose packs keep other limits."""
    return replace(house, scenario=replace(house.scenario, load=limits))


def landings_of(scenario: Scenario) -> Mapping[str, Landing]:
    """Return the landing places; where none are told, those of the packs as delivered."""
    if scenario.landings:
        return scenario.landings
    return {
        pack.name: Landing(pack.name, pack.level, pack.places, pack.holds) for pack in scenario.packs.values()
    }


def unstacked(house: House) -> House:
    """Return a house with nothing lying on anything: all frames of a level in one layer of one pack.

    The rules of standing say for it what they say for every load.
    """
    scenario = house.scenario
    packs = {}
    for level in scenario.levels:
        landing = next(each for each in landings_of(scenario).values() if each.level == level)
        layer = [frame.name for frame in scenario.frames.values() if frame.level == level]
        packs[landing.name] = pack_of_layers(landing, [layer], scenario.frames)
    return replace(house, scenario=replace(scenario, packs=MappingProxyType(packs)))
