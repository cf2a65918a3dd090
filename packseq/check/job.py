"""What stays the same through a replay, and one lift as the rules see it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.check.ground import lines_covered
from packseq.check.state import Heap, State
from packseq.house.model import House, LevelHouse
from packseq.plan.begin import Begin
from packseq.plan.model import LapDirection
from packseq.routes.engine import Routes
from packseq.routes.values import Leg, Stop, frame_stop, pack_stop, spot_stop
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
    routes
        The ways between these packs, spots and the lines of the frames.
    begin
        Where the plan begins; None where everything lies as delivered.
    """

    house: House
    spots: Mapping[str, Spot]
    places: Mapping[str, Place]
    direction: LapDirection
    routes: Routes
    begin: Begin | None = None

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
    def beginning(self) -> State:
        """The state before the first move."""
        scenario = self.house.scenario
        delivered = State.delivered(scenario.packs.values(), self.spots.values())
        if self.begin is None:
            return delivered
        return State.begun(self.begin, scenario.frames, delivered.heaps)

    @cached_property
    def wanted(self) -> tuple[str, ...]:
        """The frames that a plan stands by its end, in the order of the scenario."""
        left_out = () if self.begin is None else self.begin.left_out
        return tuple(name for name in self.house.scenario.frames if name not in left_out)

    def heap(self, *, pack: str | None, spot: str | None) -> Heap | None:
        """Return the pack or spot so named; None unless exactly one is named and there is such a one."""
        if pack is not None and spot is None and pack in self.house.scenario.packs:
            return Heap("pack", pack)
        if spot is not None and pack is None and spot in self.spots:
            return Heap(self.spots[spot].kind, spot)
        return None

    @cached_property
    def lines_under(self) -> Mapping[Heap, frozenset[str]]:
        """The frames whose lines each pack and each spot covers, wholly or in part."""
        packs, frames = self.house.scenario.packs, self.house.scenario.frames
        grounds = {
            heap: (packs[heap.name].level, packs[heap.name].footprint(self.places[heap.name]))
            if heap.kind == "pack"
            else (self.spots[heap.name].level, self.spots[heap.name].footprint)
            for heap in self.beginning.heaps
        }
        return lines_covered(grounds, frames.values())

    def stop(self, heap: Heap) -> Stop:
        """Return where the team picks up from and puts down on a heap: its centre."""
        if heap.kind == "pack":
            return pack_stop(self.house.scenario.packs[heap.name], self.places[heap.name])
        return spot_stop(self.spots[heap.name])

    def named(self, stop: Stop) -> str:
        """Return what people call a stop: the line of a frame, a pack or a spot."""
        if stop.frame is not None:
            return f"the line of {stop.frame}"
        return next((str(heap) for heap in self.beginning.heaps if self.stop(heap) == stop), "where it is")


@dataclass(frozen=True)
class Lift:
    """One lift, with the state just before it.

    `source` is where the frame truly lies. `target` is None when the frame is stood;
    `people` is the team that the plan gives it. `team_at` is where the team put the last frame
    down; None before the first lift.
    """

    job: Job
    state: State
    frame: Frame
    source: Heap
    target: Heap | None
    people: int
    team_at: Stop | None

    @cached_property
    def level(self) -> LevelHouse:
        """The level that the frame belongs to."""
        return self.job.house.level_of[self.frame.name]

    @cached_property
    def pick_up(self) -> Stop:
        """Where the team takes the frame from."""
        return self.job.stop(self.source)

    @cached_property
    def drop(self) -> Stop:
        """Where the team puts the frame down: the middle of its line, or the centre of a heap."""
        return frame_stop(self.frame) if self.target is None else self.job.stop(self.target)

    @cached_property
    def empty(self) -> Leg | None:
        """The walk to the pick-up; None before the first lift, and where there is no way."""
        if self.team_at is None:
            return None
        return self.job.routes.leg(self.team_at, self.pick_up, None, self.state.standing)

    @cached_property
    def loaded(self) -> Leg | None:
        """The walk with the frame; None where there is no way."""
        return self.job.routes.leg(self.pick_up, self.drop, self.frame, self.state.standing)

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
