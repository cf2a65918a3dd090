"""A pack while it is laid up, bottom layer first: what may come next, by the limits alone."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal, NamedTuple

from packseq.loading.job import LoadJob

How = Literal["new layer", "end to end", "side by side"]


class Stack(NamedTuple):
    """The layers of a pack so far.

    `bears` is the length and width on which every layer but the last carries. The last layer, open
    still, reaches `row` and itself carries on `row_bears`; `how` is how its frames lie beside one
    another ("new layer": there is one only). `largest_row` and `largest_frame` are kept for
    layer-room, `apart` has a bit for each group of frames of which the pack holds one.
    """

    bears: tuple[float, float] = (math.inf, math.inf)
    row: tuple[float, float] = (0.0, 0.0)
    row_bears: tuple[float, float] = (math.inf, math.inf)
    how: How = "new layer"
    row_thickness_mm: int = 0
    layers: int = 0
    height_mm: int = 0
    grams: int = 0
    largest_row: tuple[float, float] = (0.0, 0.0)
    largest_frame: tuple[int, int] = (0, 0)
    apart: int = 0

    @property
    def carries(self) -> tuple[float, float]:
        """Length and width on which a new layer would be carried."""
        return _least(self.bears, self.row_bears)

    @property
    def fits_its_frames(self) -> bool:
        """Whether no row reaches past the longest and the tallest frame of the pack."""
        return all(row <= frame for row, frame in zip(self.largest_row, self.largest_frame, strict=True))


class Laying:
    """Lays frames on stacks by the limits of a job."""

    def __init__(self, job: LoadJob) -> None:
        self._job = job
        limits = job.limits
        self._most_height_mm = limits.most_height_mm - limits.bearer_mm
        self._reach = 2 * limits.overhang_mm
        self._apart = {
            name: sum(1 << place for place, group in enumerate(limits.apart) if name in group)
            for name in job.names
        }
        self.ways: tuple[How, ...] = (
            *(("end to end",) if limits.end_to_end else ()),
            *(("side by side",) if limits.side_by_side else ()),
        )

    def laid(
        self, stack: Stack, name: str, most_grams: int, most_row_mm: tuple[float, float]
    ) -> Iterator[tuple[How, Stack]]:
        """Yield each way of laying a frame on a stack, and the stack it makes.

        `most_row_mm` is the most length and width that frames sharing a layer may reach.
        """
        grams = stack.grams + self._job.grams[name]
        if grams > most_grams or stack.apart & self._apart[name]:
            return
        for how in ("new layer", *self.ways) if stack.layers else ("new layer",):
            laid = self._layered(stack, name) if how == "new layer" else self._joined(stack, name, how)
            if laid is None or (how != "new layer" and not _within(laid.row, most_row_mm)):
                continue
            size = (self._job.length_mm[name], self._job.width_mm[name])
            yield (
                how,
                laid._replace(
                    grams=grams,
                    largest_frame=(
                        max(stack.largest_frame[0], size[0]),
                        max(stack.largest_frame[1], size[1]),
                    ),
                    largest_row=(
                        max(stack.largest_row[0], laid.row[0]),
                        max(stack.largest_row[1], laid.row[1]),
                    ),
                    apart=stack.apart | self._apart[name],
                ),
            )

    def _layered(self, stack: Stack, name: str) -> Stack | None:
        size = (self._job.length_mm[name], self._job.width_mm[name])
        thickness_mm = self._job.thickness_mm[name]
        height_mm = stack.height_mm + thickness_mm
        bears = stack.carries
        if (
            stack.layers >= self._job.limits.most_layers
            or height_mm > self._most_height_mm
            or size[0] > bears[0] + self._reach
            or size[1] > bears[1] + self._reach
        ):
            return None
        return stack._replace(
            bears=bears,
            row=size,
            row_bears=size,
            how="new layer",
            row_thickness_mm=thickness_mm,
            layers=stack.layers + 1,
            height_mm=height_mm,
        )

    def _joined(self, stack: Stack, name: str, how: How) -> Stack | None:
        if stack.how not in ("new layer", how):
            return None
        length_mm, width_mm = self._job.length_mm[name], self._job.width_mm[name]
        gap_mm = self._job.limits.layer_gap_mm
        (row_length, row_width), (bears_length, bears_width) = stack.row, stack.row_bears
        if how == "end to end":
            row = (row_length + gap_mm + length_mm, max(row_width, width_mm))
            bears = (row[0], min(bears_width, width_mm))
        else:
            row = (max(row_length, length_mm), row_width + gap_mm + width_mm)
            bears = (min(bears_length, length_mm), row[1])
        thickness_mm = max(stack.row_thickness_mm, self._job.thickness_mm[name])
        height_mm = stack.height_mm - stack.row_thickness_mm + thickness_mm
        if (
            row[0] > stack.bears[0] + self._reach
            or row[1] > stack.bears[1] + self._reach
            or height_mm > self._most_height_mm
        ):
            return None
        return stack._replace(
            row=row, row_bears=bears, how=how, row_thickness_mm=thickness_mm, height_mm=height_mm
        )


def _least(one: tuple[float, float], other: tuple[float, float]) -> tuple[float, float]:
    return (min(one[0], other[0]), min(one[1], other[1]))


def _within(row: tuple[float, float], most: tuple[float, float]) -> bool:
    return row[0] <= most[0] and row[1] <= most[1]
