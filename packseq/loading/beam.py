"""Finding loads: the house is taken down frame by frame, and each frame laid on a pack as it comes.

What is stood last comes down first and goes to the bottom. A pack built so comes off in stand order:
no frame is lifted twice. Many part-built loads are kept side by side and the most promising go on.
A frame may also be left over, to go on top of any pack at the end: on site it is then set aside.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from packseq.loading.fits import fits, put_in
from packseq.loading.front import Children, Front, Table, Taste
from packseq.loading.job import LoadJob
from packseq.loading.stacks import HOWS, Flags, Floats, How, Stacks, empty_stacks
from packseq.loading.standing import Standing, landing_stop
from packseq.plan.load import LaidLayer, LaidPack


@dataclass(frozen=True, slots=True)
class Found:
    """A load as found: the stand order, and the packs, the frames of each row in the order laid."""

    order: tuple[str, ...]
    packs: tuple[LaidPack, ...]


class _Laid(NamedTuple):
    """One frame laid on the pack of a landing place, by its number; `how` None: left over."""

    frame: str
    place: int
    how: How | None


@dataclass(frozen=True, slots=True)
class _Part:
    """How a part-built load came about; `before` leads back through what was laid."""

    standing: int
    left_over: tuple[str, ...] = ()
    walked_m: float = 0.0
    before: _Part | None = None
    laid: _Laid | None = None


class Beam:
    """Searches for loads of one job; `standing` answers which frame may come down next."""

    def __init__(self, job: LoadJob, standing: Standing) -> None:
        self._job = job
        self._standing = standing
        self._table = Table(job, standing)
        self._place_of = {name: place for place, name in enumerate(job.names)}

    def search(
        self, taste: Taste, dice: random.Random, is_late: Callable[[], bool] = lambda: False
    ) -> Iterator[Found]:
        """Yield the loads that one search ends with, the most promising first; none if dry or late."""
        rows_mm = self._rows(dice)
        noise = np.random.default_rng(dice.getrandbits(63))
        parts: list[_Part] = [_Part(self._standing.everything)]
        stacks, barred = empty_stacks(len(rows_mm))[None], self._table.other_level[None]
        for _ in self._job.names:
            pairs = [
                (number, self._place_of[name])
                for number, part in enumerate(parts)
                for name in self._standing.last(part.standing)
            ]
            if not pairs or is_late():
                return
            front = Front(
                stacks,
                barred,
                self._standing_flags(parts),
                np.array([len(part.left_over) for part in parts]),
                np.array([part.walked_m for part in parts]),
            )
            at, frames = np.array(pairs).T
            children = self._table.children(front, at, frames, rows_mm, taste)
            cost = children.cost + noise.random(children.cost.shape) * taste.noise
            parts, stacks, barred = self._kept(parts, front, children, cost, taste.width)
        for part in parts:
            found = self._finished(part)
            if found is not None:
                yield found

    def _rows(self, dice: random.Random) -> Floats:
        """Draw how long the rows of each pack are to be at most, one pack of each level full length.

        Packs of many lengths take frames of many lengths, and a row must not reach past the longest
        frame of its pack, which often comes last.
        """
        rows: dict[str, float] = {}
        for level, landings in self._job.landings_on.items():
            lengths = sorted(self._job.length_mm[name] for name in self._job.frames_of[level])
            full = dice.choice(landings)
            for landing in landings:
                drawn = dice.choice(lengths[len(lengths) // 2 :])
                rows[landing.name] = float(lengths[-1] if landing == full else drawn)
        return np.array([rows[landing.name] for landing in self._table.landings])

    def _standing_flags(self, parts: Sequence[_Part]) -> Flags:
        count = len(self._job.names)
        size = -(-count // 8)
        packed = np.frombuffer(b"".join(part.standing.to_bytes(size, "little") for part in parts), np.uint8)
        bits = np.unpackbits(packed.reshape(len(parts), size), axis=1, count=count, bitorder="little")
        flags: Flags = bits.astype(np.bool_)
        return flags

    def _kept(
        self, parts: Sequence[_Part], front: Front, children: Children, cost: Floats, width: int
    ) -> tuple[list[_Part], Stacks, Flags]:
        """Return the best part-built loads, each once, whose last frame can be carried in.

        The ways are asked for only here, as they take longest.
        """
        flat = cost.ravel()
        ranked = np.flatnonzero(np.isfinite(flat))
        ranked = ranked[np.argsort(flat[ranked], kind="stable")]
        kept: list[_Part] = []
        stacks, barred = [], []
        seen: set[object] = set()
        for child in ranked.tolist():
            row, way = divmod(child, cost.shape[1])
            number, frame = int(children.part[row]), int(children.frame[row])
            part = self._gone_on(parts[number], frame, way)
            stack, bar = front.stacks[number].copy(), front.barred[number]
            if part.laid is not None and part.laid.how is not None:
                place = part.laid.place
                stack[place] = children.after[row, place, way % len(HOWS)]
                bar = self._barred_after(bar, frame, place)
            key = (part.standing, part.left_over, stack.tobytes(), bar.tobytes())
            if key in seen:
                continue
            seen.add(key)
            if self._has_ways(part):
                kept.append(part)
                stacks.append(stack)
                barred.append(bar)
                if len(kept) == width:
                    break
        if not kept:
            return [], front.stacks[:0], front.barred[:0]
        return kept, np.array(stacks), np.array(barred)

    def _gone_on(self, part: _Part, frame: int, way: int) -> _Part:
        """Return a part-built load with one frame more, laid or left over by the column of its cost."""
        name = self._job.names[frame]
        standing = self._standing.without(part.standing, name)
        place, how = divmod(way, len(HOWS))
        if place == len(self._table.landings):
            left_over = tuple(sorted((*part.left_over, name)))
            return _Part(standing, left_over, part.walked_m, part, _Laid(name, place, None))
        walked_m = part.walked_m + float(self._table.walk_m[place, frame])
        return _Part(standing, part.left_over, walked_m, part, _Laid(name, place, HOWS[how]))

    def _barred_after(self, barred: Flags, frame: int, place: int) -> Flags:
        """Return which frames may not go in which pack once a frame lies in one."""
        after: Flags = barred | self._table.together[frame]
        after[place] = barred[place] | self._table.apart[frame]
        return after

    def _has_ways(self, part: _Part) -> bool:
        laid, before = part.laid, part.before
        if laid is None or before is None or laid.how is None:
            return True
        landings = self._table.landings
        landing = landings[laid.place]
        if not self._standing.has_way(laid.frame, landing_stop(landing), before.standing):
            return False
        later = before.laid
        return (
            later is None
            or later.how is None
            or landings[later.place].level != landing.level
            or self._standing.has_way_back(laid.frame, landing_stop(landings[later.place]), before.standing)
        )

    def _finished(self, part: _Part) -> Found | None:
        """Return a load with what was left over put in; None where it has no room or a row is too long."""
        steps = list(_steps(part))
        packs = [
            _laid_up(landing.name, [step for step in steps if step.place == place and step.how is not None])
            for place, landing in enumerate(self._table.landings)
        ]
        for name in sorted(part.left_over, key=lambda each: (-self._job.length_mm[each], each)):
            placed = self._put_in(name, packs)
            if placed is None:
                return None
            packs = placed
        made = tuple(pack for pack in packs if pack.layers)
        if not all(fits(self._job, pack) for pack in made):
            return None
        return Found(tuple(step.frame for step in reversed(steps)), made)

    def _put_in(self, name: str, packs: Sequence[LaidPack]) -> list[LaidPack] | None:
        """Put a frame in the first pack and the highest layer that it fits; None where there is none."""
        level = self._job.scenario.frames[name].level
        for place, pack in enumerate(packs):
            if pack.layers and self._table.landings[place].level == level:
                for tried in put_in(pack, name):
                    if fits(self._job, tried):
                        return [*packs[:place], tried, *packs[place + 1 :]]
        return None


def _steps(part: _Part) -> Iterator[_Laid]:
    """Return what was laid, the first laid first."""
    steps: list[_Laid] = []
    at: _Part | None = part
    while at is not None:
        if at.laid is not None:
            steps.append(at.laid)
        at = at.before
    return reversed(steps)


def _laid_up(landing: str, steps: Sequence[_Laid]) -> LaidPack:
    """Return the pack that was laid from the bottom up."""
    layers: list[LaidLayer] = []
    for step in steps:
        if step.how == "new layer":
            layers.insert(0, LaidLayer((step.frame,)))
        else:
            layers[0] = LaidLayer((*layers[0].frames, step.frame), step.how == "side by side")
    return LaidPack(landing, tuple(layers))
