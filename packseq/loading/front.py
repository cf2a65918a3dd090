"""Part-built loads side by side, in arrays: every way of laying one frame more, and what each promises."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import dist

import numpy as np

from packseq.loading.job import LoadJob
from packseq.loading.stacks import Flags, Floats, Laying, Stacks, Whole, carries_long
from packseq.loading.standing import Standing


@dataclass(frozen=True, slots=True)
class Taste:
    """What one search looks for: how many it keeps, and how much it minds each thing.

    `walking` is the cost of a metre from pack to line, `noise` the most that is added by chance.
    """

    width: int
    most_left_over: int
    walking: float
    noise: float = 1.0
    layers: float = 1.0
    too_long_rows: float = 3.0
    left_over: float = 6.0


@dataclass(frozen=True, slots=True)
class Front:
    """Part-built loads, one a row, with a column for each landing place.

    `barred` tells which frames may not go in a pack: those of other levels, and by what is together and
    apart. `standing` are the frames not laid yet, one a column.
    """

    stacks: Stacks
    barred: Flags
    standing: Flags
    left_over: Whole
    walked_m: Floats


@dataclass(frozen=True, slots=True)
class Children:
    """Ways of going on, one row for each frame that may come next in a part-built load.

    `after` has the stack that each landing place would get, in each of the ways of lying. `cost` is
    infinite where that may not be or leads nowhere; its last column is for leaving the frame over.
    """

    part: Whole
    frame: Whole
    after: Stacks
    cost: Floats


class Table:
    """What never changes through the searches of a job, in arrays over landing places and frames."""

    def __init__(self, job: LoadJob, standing: Standing) -> None:
        self._job, self._standing = job, standing
        self.landings = tuple(job.landings.values())
        self.laying = Laying(job)
        frames = job.scenario.frames
        self.place_level = np.array([landing.level for landing in self.landings])
        self.frame_level = np.array([frames[name].level for name in job.names])
        self.other_level: Flags = self.place_level[:, None] != self.frame_level[None, :]
        self.apart = _sharing(job.names, job.limits.apart)
        self.together = _sharing(job.names, job.together)
        self.grouped: Flags = np.asarray(self.together.any(axis=0))
        self._most_grams = np.array([job.most_grams[landing.name] for landing in self.landings], np.float64)
        self._most_layers = np.array([job.most_layers[landing.level] for landing in self.landings])
        self._most_packs = np.array(
            [min(job.packs[landing.level], len(job.landings_on[landing.level])) for landing in self.landings]
        )
        tallest = {level: max(job.width_mm[name] for name in names) for level, names in job.frames_of.items()}
        self._tallest = np.array([tallest[landing.level] for landing in self.landings], np.float64)
        self.walk_m: Floats = np.array(
            [
                [dist(landing.places[0].at, frames[name].middle) / 1000 for name in job.names]
                for landing in self.landings
            ]
        )
        self._long = np.array([job.length_mm[name] for name in job.names], np.float64)
        self._by_length = np.argsort(self._long, kind="stable")
        self._reach_mm = 2 * job.limits.overhang_mm

    @cached_property
    def _covers_from_mm(self) -> Floats:
        """The length from which a pack at a place lies on the line of a frame; infinite for none."""
        covers = np.full(self.other_level.shape, np.inf)
        where = {name: place for place, name in enumerate(self._job.names)}
        for row, landing in enumerate(self.landings):
            for name, long in self._standing.covered_from(landing).items():
                covers[row, where[name]] = long
        return covers

    def children(self, front: Front, part: Whole, frame: Whole, rows_mm: Floats, taste: Taste) -> Children:
        """Return every way of laying these frames on these part-built loads.

        `rows_mm` is how long the rows at each landing place are to become.
        """
        stacks = front.stacks[part]
        used = stacks["layers"] > 0
        here: Flags = self.place_level == self.frame_level[frame][:, None]
        room = taste.most_left_over - front.left_over[part]
        after, may = self.laying.laid(
            stacks, self.laying.frames(frame), self._most_grams, (rows_mm, self._tallest)
        )
        opened = (used & here).sum(axis=1)
        may &= (~front.barred[part, :, frame] & (used | (opened[:, None] < self._most_packs)))[..., None]
        sizes = np.maximum(rows_mm, stacks["longest"])
        lies_on = used & here & (sizes >= self._covers_from_mm[:, frame].T)
        may &= ~lies_on.any(axis=1)[:, None, None]
        left = front.standing[part] & (self.frame_level == self.frame_level[frame][:, None])
        left[np.arange(len(part)), frame] = False
        may &= self._takes_what_is_left(stacks, after, left, used & here, room)
        may &= self._rows_get_long_frames(stacks, after, left, used & here)

        before = np.where(used, self._stack_cost(stacks, rows_mm, taste, self._most_layers), 0.0)
        total = before.sum(axis=1) + taste.walking * front.walked_m[part]
        total += taste.left_over * front.left_over[part]
        then = self._stack_cost(after, rows_mm[:, None], taste, self._most_layers[:, None])
        laid = (total[:, None] - before + taste.walking * self.walk_m[:, frame].T)[..., None] + then
        cost = np.where(may, laid, np.inf).reshape(len(part), -1)
        over = np.where((room > 0) & ~self.grouped[frame], total + taste.left_over, np.inf)
        return Children(part, frame, after, np.column_stack((cost, over)))

    def _stack_cost(self, stacks: Stacks, rows_mm: Floats, taste: Taste, most_layers: Whole) -> Floats:
        """Return what stacks with frames on them cost: rows too short, or too long for them, and layers."""
        short = np.maximum(0.0, rows_mm - carries_long(stacks))
        too_long = np.maximum(0.0, taste.too_long_rows * (stacks["longest_row"] - stacks["longest"]))
        cost: Floats = (short + too_long) / 1000 + taste.layers * stacks["layers"] ** 2 / most_layers
        return cost

    def _takes_what_is_left(
        self, stacks: Stacks, after: Stacks, left: Flags, used: Flags, room: Whole
    ) -> Flags:
        """Tell where no more frames than may be left over are too long for every pack, if all are begun."""
        carried = np.where(used, carries_long(stacks) + self._reach_mm, 0.0)
        others = _without_each(carried).max(axis=-1)
        longest = np.maximum(others[..., None], carries_long(after) + self._reach_mm)
        longer_from = np.zeros((len(left), left.shape[1] + 1), np.int64)
        longer_from[:, :-1] = np.cumsum(left[:, self._by_length[::-1]], axis=1)[:, ::-1]
        position = np.searchsorted(self._long[self._by_length], longest, side="right")
        unfit = np.take_along_axis(longer_from, position.reshape(len(left), -1), axis=1)
        begun = _without_each(used).sum(axis=-1) + 1
        fits: Flags = unfit.reshape(longest.shape) <= room[:, None, None]
        fits |= (begun < self._most_packs)[..., None]
        return fits

    def _rows_get_long_frames(self, stacks: Stacks, after: Stacks, left: Flags, used: Flags) -> Flags:
        """Tell where each pack whose rows reach past its frames can still get a frame as long as they are."""
        needs = np.where(used & (stacks["longest_row"] > stacks["longest"]), stacks["longest_row"], 0.0)
        own = np.where(after["longest_row"] > after["longest"], after["longest_row"], 0.0)
        every = np.repeat(_without_each(needs)[:, :, None, :], own.shape[-1], axis=2)
        places = np.arange(needs.shape[1])
        every[:, places, :, places] = own.transpose(1, 0, 2)
        lengths = np.zeros((len(left), max(left.shape[1], needs.shape[1])))
        lengths[:, : left.shape[1]] = np.where(left, self._long, 0.0)
        most = -np.sort(-lengths, axis=1)[:, : needs.shape[1]]
        gets: Flags = np.asarray((-np.sort(-every, axis=-1) <= most[:, None, None, :]).all(axis=-1))
        return gets


def _without_each(values: Flags | Floats) -> Floats:
    """Return, for each column, the row of all columns with that one set to 0."""
    count = values.shape[1]
    rows: Floats = np.where(np.eye(count, dtype=np.bool_), 0, values[:, None, :])
    return rows


def _sharing(names: Sequence[str], groups: Iterable[Collection[str]]) -> Flags:
    """Return, for each frame, the others that share a group with it."""
    shares = np.zeros((len(names),) * 2, np.bool_)
    for group in groups:
        inside = np.array([name in group for name in names])
        shares |= inside[:, None] & inside[None, :]
    np.fill_diagonal(shares, val=False)
    return shares
