"""What stays the same through a replay, and one lift as the rules see it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.check.state import Heap, State
from packseq.geometry import Point
from packseq.house.model import House, LevelHouse
from packseq.plan.model import LapDirection
from packseq.scenario.model import Frame, Place, Spot, StandChoices


@dataclass(frozen=True)
class Job:
    """A house with the choices that hold through a whole plan.

    Parameters
    ----------
    house
        What is to stand.
    spots
        The spots there are: the scenario's, or the plan's own where the scenario has none.
    places
        The place of every pack.
    direction
        The direction that the perimeter is lapped in; of the reference wall only, unless one-way.
    """

    house: House
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    direction: LapDirection

    @cached_property
    def choices(self) -> StandChoices:
        """How the supervisor wants the building lapped."""
        return self.house.scenario.stand

    @cached_property
    def laps(self) -> Mapping[int, tuple[str, ...]]:
        """The perimeter of each level in this direction, reference wall first."""
        return {level.level: level.stand_round(self.direction) for level in self.house.levels}

    @cached_property
    def below(self) -> Mapping[int, tuple[str, ...]]:
        """The frames of all lower levels, by level."""
        scenario = self.house.scenario
        return {
            level: tuple(name for name, frame in scenario.frames.items() if frame.level < level)
            for level in scenario.levels
        }

    @cached_property
    def delivered(self) -> State:
        """The state before the first move."""
        return State.delivered(self.house.scenario.packs.values(), self.spots.values())

    def heap(self, *, pack: str | None, spot: str | None) -> Heap | None:
        """Return the pack or spot so named; None unless exactly one is named and there is such a one."""
        if pack is not None and spot is None and pack in self.house.scenario.packs:
            return Heap("pack", pack)
        if spot is not None and pack is None and spot in self.spots:
            return Heap(self.spots[spot].kind, spot)
        return None

    def centre(self, heap: Heap) -> Point:
        """Return where the team picks up from and puts down on a heap, in mm."""
        return self.places[heap.name].at if heap.kind == "pack" else self.spots[heap.name].at


@dataclass(frozen=True)
class Lift:
    """One lift, with the state just before it.

    `source` is where the frame truly lies. `target` is None when the frame is stood;
    `people` is the team that the plan gives it.
    """

    job: Job
    state: State
    frame: Frame
    source: Heap
    target: Heap | None
    people: int

    @cached_property
    def level(self) -> LevelHouse:
        """The level that the frame belongs to."""
        return self.job.house.level_of[self.frame.name]

    def missing(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return those of `names` that do not stand yet, in the order given."""
        standing = self.state.standing
        return tuple([name for name in names if name not in standing])


def listed(names: Iterable[str], most: int = 5) -> str:
    """Return names as a phrase: at most `most` of them, and how many more."""
    every = tuple(names)
    if len(every) <= most:
        return ", ".join(every)
    return f"{', '.join(every[:most])} and {len(every) - most} more"
