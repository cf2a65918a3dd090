"""Many packs while they are laid up, bottom layer first: what may come next on each, by the limits alone."""

from __future__ import annotations

from typing import Any, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from packseq.loading.job import LoadJob

How = Literal["new layer", "end to end", "side by side"]
HOWS: tuple[How, ...] = ("new layer", "end to end", "side by side")

Flags = NDArray[np.bool_]
Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Stacks = NDArray[Any]
"""Records of `STACK`, in any shape."""

STACK = np.dtype(
    [
        (name, np.float64)
        for name in (
            # Length and width on which every layer but the last carries.
            "bears_long",
            "bears_wide",
            # What the frames of the last layer, open still, reach, and on what they carry in their turn.
            "row_long",
            "row_wide",
            "row_bears_long",
            "row_bears_wide",
            # How they lie, by place in HOWS: a new layer has one frame only.
            "how",
            "row_thick",
            "layers",
            "high",
            "grams",
            # The largest row and the largest frame of the whole pack, for layer-room.
            "longest_row",
            "widest_row",
            "longest",
            "widest",
        )
    ]
)
"""The layers of a pack so far: all lengths in mm, bearers not counted."""


def empty_stacks(count: int) -> Stacks:
    """Return so many stacks with nothing on them."""
    stacks = np.zeros(count, STACK)
    for name in ("bears_long", "bears_wide", "row_bears_long", "row_bears_wide"):
        stacks[name] = np.inf
    return stacks


def carries_long(stacks: Stacks) -> Floats:
    """Return the length on which a new layer would be carried."""
    least: Floats = np.minimum(stacks["bears_long"], stacks["row_bears_long"])
    return least


def carries_wide(stacks: Stacks) -> Floats:
    """Return the width on which a new layer would be carried."""
    least: Floats = np.minimum(stacks["bears_wide"], stacks["row_bears_wide"])
    return least


class Frames(NamedTuple):
    """Frames in numbers: mm and grams, each with a last axis of one, to be laid on stacks side by side."""

    long: Floats
    wide: Floats
    thick: Floats
    grams: Floats


class Laying:
    """Lays frames on stacks by the limits of a job."""

    def __init__(self, job: LoadJob) -> None:
        limits = job.limits
        self._room_mm = limits.most_height_mm - limits.bearer_mm
        self._most_layers = limits.most_layers
        self._reach_mm = 2 * limits.overhang_mm
        self._gap_mm = limits.layer_gap_mm
        self._may_share = {"end to end": limits.end_to_end, "side by side": limits.side_by_side}
        sizes = (job.length_mm, job.width_mm, job.thickness_mm, job.grams)
        self._frames = Frames(*(np.array([each[name] for name in job.names], np.float64) for each in sizes))

    def frames(self, chosen: Whole) -> Frames:
        """Return frames by their places in the order of their file."""
        return Frames(*(each[chosen][:, None] for each in self._frames))

    def laid(
        self, stacks: Stacks, frames: Frames, most_grams: Floats, most_row_mm: tuple[Floats, Floats]
    ) -> tuple[Stacks, Flags]:
        """Return what each stack becomes under its frame, in each of `HOWS`, and whether that may be.

        Parameters
        ----------
        stacks
            One row of stacks for each frame.
        frames
            What is laid.
        most_grams, most_row_mm
            For each stack of a row the most mass, and the most length and width that frames sharing a
            layer may reach.
        """
        heavy = stacks["grams"] + frames.grams
        ways = [
            self._new_layer(stacks, frames),
            *(self._shared(stacks, frames, how, most_row_mm) for how in HOWS[1:]),
        ]
        after = np.stack([stack for stack, _ in ways], axis=-1)
        allowed = np.stack([flags & (heavy <= most_grams) for _, flags in ways], axis=-1)
        after["grams"] = heavy[..., None]
        after["longest"] = np.maximum(stacks["longest"], frames.long)[..., None]
        after["widest"] = np.maximum(stacks["widest"], frames.wide)[..., None]
        after["longest_row"] = np.maximum(stacks["longest_row"][..., None], after["row_long"])
        after["widest_row"] = np.maximum(stacks["widest_row"][..., None], after["row_wide"])
        return after, allowed

    def _new_layer(self, stacks: Stacks, frames: Frames) -> tuple[Stacks, Flags]:
        after = stacks.copy()
        after["bears_long"], after["bears_wide"] = carries_long(stacks), carries_wide(stacks)
        after["row_long"] = after["row_bears_long"] = frames.long
        after["row_wide"] = after["row_bears_wide"] = frames.wide
        after["how"] = 0
        after["row_thick"] = frames.thick
        after["layers"] += 1
        after["high"] += frames.thick
        return after, self._stays_within(after) & (after["layers"] <= self._most_layers)

    def _shared(
        self, stacks: Stacks, frames: Frames, how: How, most_row_mm: tuple[Floats, Floats]
    ) -> tuple[Stacks, Flags]:
        number = HOWS.index(how)
        if not self._may_share[how]:
            return stacks, np.zeros(stacks.shape, np.bool_)
        after = stacks.copy()
        if how == "end to end":
            after["row_long"] = after["row_bears_long"] = stacks["row_long"] + self._gap_mm + frames.long
            after["row_wide"] = np.maximum(stacks["row_wide"], frames.wide)
            after["row_bears_wide"] = np.minimum(stacks["row_bears_wide"], frames.wide)
        else:
            after["row_wide"] = after["row_bears_wide"] = stacks["row_wide"] + self._gap_mm + frames.wide
            after["row_long"] = np.maximum(stacks["row_long"], frames.long)
            after["row_bears_long"] = np.minimum(stacks["row_bears_long"], frames.long)
        after["how"] = number
        after["row_thick"] = np.maximum(stacks["row_thick"], frames.thick)
        after["high"] += after["row_thick"] - stacks["row_thick"]
        most_long, most_wide = most_row_mm
        allowed: Flags = (
            (stacks["layers"] > 0)
            & ((stacks["how"] == 0) | (stacks["how"] == number))
            & (after["row_long"] <= most_long)
            & (after["row_wide"] <= most_wide)
            & self._stays_within(after)
        )
        return after, allowed

    def _stays_within(self, after: Stacks) -> Flags:
        """Tell whether the last layer is carried by all beneath it, in a pack not too high."""
        within: Flags = (
            (after["row_long"] <= after["bears_long"] + self._reach_mm)
            & (after["row_wide"] <= after["bears_wide"] + self._reach_mm)
            & (after["high"] <= self._room_mm)
        )
        return within
