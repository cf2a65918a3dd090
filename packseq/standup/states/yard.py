"""What the states of one job rest on: its frames by number, and where they lie and go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from packseq.geometry import overlap
from packseq.routes.values import Stop, frame_stop, pack_stop, spot_stop
from packseq.scenario.model import Frame, Pack, Spot
from packseq.standup.begun import lying_on
from packseq.standup.job import Job
from packseq.standup.states.bits import Bits, Flags, Numbered, has_all, has_any
from packseq.standup.states.legtable import LegTable
from packseq.standup.states.order import StandOrder

NO_PACK = -1


@dataclass(frozen=True)
class Yard:
    """A job with its frames numbered. Places where frames lie are numbered too: packs, then spots.

    `legs` may serve for every job of one house; its frames are numbered in the order of frames.csv.
    """

    job: Job
    legs: LegTable

    @property
    def frames(self) -> Numbered:
        """The frames by number."""
        return self.legs.frames

    @cached_property
    def order(self) -> StandOrder:
        """What may be stood next."""
        return StandOrder(self.job, self.frames)

    @cached_property
    def packs(self) -> tuple[Pack, ...]:
        """The packs, in the order of their numbers."""
        return tuple(self.job.scenario.packs.values())

    @cached_property
    def spots(self) -> tuple[Spot, ...]:
        """The spots; the first has the number that comes after the last pack's."""
        return tuple(self.job.spots.values())

    @cached_property
    def stops(self) -> tuple[Stop, ...]:
        """Where each place is walked to."""
        return (
            *(pack_stop(pack, self.job.places[pack.name]) for pack in self.packs),
            *(spot_stop(spot) for spot in self.spots),
        )

    @cached_property
    def lines(self) -> tuple[Stop, ...]:
        """Where each frame is put down to be stood."""
        return tuple(frame_stop(self.frame(number)) for number in range(len(self.frames)))

    @cached_property
    def pack_of(self) -> tuple[int, ...]:
        """The pack that each frame came in, `NO_PACK` for one that is in none when the plan begins."""
        number = {pack.name: number for number, pack in enumerate(self.packs)}
        pack_of = self.job.scenario.pack_of
        return tuple(number[pack_of[name]] if name in pack_of else NO_PACK for name in self.frames.names)

    @cached_property
    def above(self) -> Mapping[str, Bits]:
        """The frames in the layers above each frame, as delivered."""
        return {
            name: self.frames.mask(upper for layer in pack.layers[:depth] for upper in layer)
            for pack in self.packs
            for depth, layer_of_pack in enumerate(pack.layers)
            for name in layer_of_pack
        }

    @cached_property
    def depth(self) -> Mapping[str, tuple[int, int]]:
        """The pack of each frame and its layer from the top, as delivered."""
        return {
            name: (number, depth)
            for number, pack in enumerate(self.packs)
            for depth, layer in enumerate(pack.layers)
            for name in layer
        }

    @cached_property
    def fitting(self) -> tuple[tuple[int, ...], ...]:
        """The spots that take each frame, by their number among the spots."""
        names = {spot.name: number for number, spot in enumerate(self.spots)}
        return tuple(
            tuple(names[spot.name] for spot in self.job.spots_for(name)) for name in self.frames.names
        )

    @cached_property
    def packs_over(self) -> tuple[tuple[int, ...], ...]:
        """The packs that lie over each frame's line."""
        return tuple(
            tuple(number for number, pack in enumerate(self.packs) if name in self.job.across[pack.name])
            for name in self.frames.names
        )

    @cached_property
    def spots_over(self) -> tuple[tuple[int, ...], ...]:
        """The spots that lie over each frame's line, by their number among the spots."""
        return tuple(
            tuple(
                number
                for number, spot in enumerate(self.spots)
                if spot.level == frame.level and overlap(frame.footprint, spot.footprint)
            )
            for frame in map(self.frame, range(len(self.frames)))
        )

    @cached_property
    def across_spot(self) -> tuple[Bits, ...]:
        """The frames whose lines lie across each spot."""
        return tuple(
            self.frames.mask(
                name for number, name in enumerate(self.frames.names) if spot in self.spots_over[number]
            )
            for spot in range(len(self.spots))
        )

    @cached_property
    def lying_on(self) -> tuple[int | None, ...]:
        """For each spot the pack that stands in for what lies on it at the beginning, if any does."""
        number = {pack.name: number for number, pack in enumerate(self.packs)}
        return tuple(number.get(lying_on(spot.name)) for spot in self.spots)

    @cached_property
    def gone_at_first(self) -> Bits:
        """The frames that are in no pack at the beginning: they have left it, or are not there."""
        return self.frames.mask(set(self.frames.names) - self.job.scenario.pack_of.keys())

    @cached_property
    def todo(self) -> Bits:
        """The frames that stand at the end and not yet at the beginning."""
        return self.frames.mask(self.job.todo)

    @cached_property
    def layers(self) -> int:
        """How many layers of states a plan goes on by: two for each stand, one for what only is set aside."""
        return 2 * len(self.job.todo) + len(self.job.cleared)

    @cached_property
    def held_by(self) -> tuple[Bits, ...]:
        """The frames that each spot leans on."""
        return tuple(self.frames.mask(spot.against) for spot in self.spots)

    def is_free(self, spot: int, standing: Bits) -> Flags:
        """Tell with which frames standing a spot takes one: nothing across it, what it leans on up."""
        return ~has_any(standing, self.across_spot[spot]) & has_all(standing, self.held_by[spot])

    def frame(self, number: int) -> Frame:
        """Return a frame by number."""
        return self.job.scenario.frames[self.frames.names[number]]
