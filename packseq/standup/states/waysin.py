"""Which frames can still be carried to their lines, for many states at a time."""

from __future__ import annotations

import numpy as np

from packseq.routes.values import Stop
from packseq.standup.states.bits import Bits, Flags, Whole, has_any
from packseq.standup.states.yard import Yard


class WaysIn:
    """The ways in of the frames of one job: from their packs, and by the spots that take them."""

    def __init__(self, yard: Yard) -> None:
        self._yard = yard
        self._known_across: dict[tuple[int, bool], Bits] = {}
        self._learnt = 0

    def left_open(self, gone: Bits, standing: Bits, moved: Bits) -> Whole:
        """Return the states in which every frame that does not stand still has a way in.

        More frames standing never open a way. And a frame with no way from its pack gets none by being
        set aside first: where it could be carried to, it could be carried on from.

        Parameters
        ----------
        gone, standing
            The states.
        moved
            What was moved in each since every frame had a way in. Only what has been set aside since, and
            what has a known way with one of these across it, is asked for its way again.
        """
        frames = self._yard.frames
        left = np.arange(len(gone))
        moved_somewhere = np.bitwise_or.reduce(moved, axis=0)
        for name in self._yard.job.todo:
            number, bit = frames.number[name], frames.mask([name])
            lying, waiting = self._across(number, waiting=False), self._across(number, waiting=True)
            if not ((lying | waiting) & moved_somewhere).any():
                continue
            off_pack = has_any(gone[left], bit)
            fine = has_any(standing[left], bit)
            fine |= ~has_any(moved[left], lying) & ~off_pack
            fine |= ~has_any(moved[left], waiting) & off_pack
            if fine.all():
                continue
            on_pack, on_spot = np.flatnonzero(~fine & ~off_pack), np.flatnonzero(~fine & off_pack)
            fine[on_pack] = self._from_pack(number, standing[left[on_pack]])
            fine[on_spot] = self._from_a_spot(number, standing[left[on_spot]])
            left = left[fine]
        return left

    def to_a_spot(self, frame: int, standing: Bits) -> Flags:
        """Tell in which states a frame can be carried from its pack to some spot that is free."""
        yard = self._yard
        there = np.zeros(len(standing), dtype=np.bool_)
        for spot, stop in self._spots(frame):
            rows = np.flatnonzero(~there)
            ways = yard.legs.open.has_way(
                yard.stops[yard.pack_of[frame]], stop, yard.frame(frame), standing[rows]
            )
            there[rows] = ways & yard.is_free(spot, standing[rows])
        return there

    def _from_pack(self, frame: int, standing: Bits) -> Flags:
        yard = self._yard
        start = yard.stops[yard.pack_of[frame]]
        return yard.legs.open.has_way(start, yard.lines[frame], yard.frame(frame), standing)

    def _from_a_spot(self, frame: int, standing: Bits) -> Flags:
        yard = self._yard
        starts = [stop for _, stop in self._spots(frame)]
        return yard.legs.open.has_way_from_any(starts, yard.lines[frame], yard.frame(frame), standing)

    def _across(self, frame: int, *, waiting: bool) -> Bits:
        """Return the frames across some known way to a frame's line, and itself if it waits.

        While no way is known, every frame.
        """
        learnt = self._yard.legs.open.learnt
        if learnt != self._learnt:
            self._known_across.clear()
            self._learnt = learnt
        if (frame, waiting) not in self._known_across:
            self._known_across[frame, waiting] = self._across_now(frame, waiting=waiting)
        return self._known_across[frame, waiting]

    def _across_now(self, frame: int, *, waiting: bool) -> Bits:
        yard = self._yard
        starts = [stop for _, stop in self._spots(frame)] if waiting else [yard.stops[yard.pack_of[frame]]]
        ways = [yard.legs.open.across(start, yard.lines[frame], yard.frame(frame)) for start in starts]
        known = [way for way in ways if way is not None]
        if not known:
            return yard.frames.all
        itself = yard.frames.mask([yard.frames.names[frame]] if waiting else ())
        across: Bits = np.bitwise_or.reduce([itself, *known])
        return across

    def _spots(self, frame: int) -> list[tuple[int, Stop]]:
        yard = self._yard
        return [(spot, yard.stops[len(yard.packs) + spot]) for spot in yard.fitting[frame]]
