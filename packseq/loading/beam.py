"""Finding loads: the house is taken down frame by frame, and each frame laid on a pack as it comes.

What is stood last comes down first and goes to the bottom. A pack built so comes off in stand order:
no frame is lifted twice. Many part-built loads are kept side by side and the most promising go on.
A frame may also be left over, to go on top of any pack at the end: on site it is then set aside.
"""

from __future__ import annotations

import bisect
import heapq
import operator
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import dist
from typing import NamedTuple

from packseq.loading.job import LoadJob
from packseq.loading.stack import How, Laying, Stack
from packseq.loading.standing import Standing
from packseq.scenario.model import Landing


class Laid(NamedTuple):
    """One frame laid on a pack; `how` None: left over."""

    frame: str
    landing: str
    how: How | None


@dataclass(frozen=True, slots=True)
class Found:
    """A load as found: the stand order, and what was laid on each pack from the bottom up.

    `left_over` are the frames that the stand order lets stand after some frame beneath them.
    """

    order: tuple[str, ...]
    laid: tuple[Laid, ...]
    left_over: tuple[str, ...]


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


class _Part(NamedTuple):
    """A part-built load; `before` leads back through what was laid."""

    standing: int
    stacks: tuple[Stack, ...]
    left_over: tuple[str, ...]
    homes: tuple[int, ...]
    walked_m: float
    before: _Part | None
    laid: Laid | None


class Beam:
    """Searches for loads of one job; `standing` answers which frame may come down next."""

    def __init__(self, job: LoadJob, standing: Standing) -> None:
        self._job = job
        self._standing = standing
        self._laying = Laying(job)
        self._landings: Sequence[Landing] = tuple(job.landings.values())
        self._level = {name: frame.level for name, frame in job.scenario.frames.items()}
        self._most_packs = {
            level: min(most, len(job.landings_on[level])) for level, most in job.packs.items()
        }
        self._tallest = {
            level: float(max(job.width_mm[name] for name in job.frames_of[level]))
            for level in job.scenario.levels
        }
        self._group = {name: place for place, group in enumerate(job.together) for name in group}
        self._remaining: dict[int, Mapping[int, tuple[int, ...]]] = {}

    def search(self, taste: Taste, dice: random.Random) -> Iterator[Found]:
        """Yield the loads that one search ends with, the most promising first; none if it runs dry."""
        rows = self._most_rows(dice)
        parts = [
            _Part(
                self._standing.everything,
                (Stack(),) * len(self._landings),
                (),
                (-1,) * len(self._job.together),
                0.0,
                None,
                None,
            )
        ]
        for _ in self._job.names:
            parts = self._next(parts, rows, taste, dice)
        for part in parts:
            found = self._finished(part)
            if found is not None:
                yield found

    def _most_rows(self, dice: random.Random) -> list[tuple[float, float]]:
        """Draw how long the rows of each pack are to be at most, one pack of each level full length.

        Packs of many lengths take frames of many lengths, and a row must not reach past the longest
        frame of its pack, which often comes last.
        """
        rows: dict[str, tuple[float, float]] = {}
        for level, landings in self._job.landings_on.items():
            lengths = sorted(self._job.length_mm[name] for name in self._job.frames_of[level])
            full = dice.choice(landings)
            for landing in landings:
                drawn = dice.choice(lengths[len(lengths) // 2 :])
                length = lengths[-1] if landing == full else drawn
                rows[landing.name] = (float(length), self._tallest[level])
        return [rows[landing.name] for landing in self._landings]

    def _next(
        self, parts: Sequence[_Part], rows: Sequence[tuple[float, float]], taste: Taste, dice: random.Random
    ) -> list[_Part]:
        best: dict[object, tuple[float, int, _Part]] = {}
        for part in parts:
            for name in self._standing.last(part.standing):
                for after in self._laid(part, name, rows, taste):
                    cost = self._cost(after, rows, taste)
                    if cost is None:
                        continue
                    cost += dice.random() * taste.noise
                    key = (after.standing, after.stacks, after.left_over, after.homes)
                    if key not in best or cost < best[key][0]:
                        best[key] = (cost, len(best), after)
        return self._best_with_a_way(list(best.values()), taste.width)

    def _best_with_a_way(self, ranked: list[tuple[float, int, _Part]], width: int) -> list[_Part]:
        """Return the best parts whose last frame can be carried in; the ways are asked for only then."""
        heapq.heapify(ranked)
        kept: list[_Part] = []
        while ranked and len(kept) < width:
            part = heapq.heappop(ranked)[2]
            if self._has_ways(part):
                kept.append(part)
        return kept

    def _has_ways(self, part: _Part) -> bool:
        laid, before = part.laid, part.before
        if laid is None or before is None or laid.how is None:
            return True
        landings = self._job.landings
        if not self._standing.has_way(laid.frame, landings[laid.landing], before.standing):
            return False
        later = before.laid
        return (
            later is None
            or later.how is None
            or landings[later.landing].level != landings[laid.landing].level
            or self._standing.has_way_back(laid.frame, landings[later.landing], before.standing)
        )

    def _laid(
        self, part: _Part, name: str, rows: Sequence[tuple[float, float]], taste: Taste
    ) -> Iterator[_Part]:
        standing = self._standing.without(part.standing, name)
        level = self._level[name]
        group = self._group.get(name)
        open_packs = sum(
            stack.layers > 0 and landing.level == level
            for stack, landing in zip(part.stacks, self._landings, strict=True)
        )
        may_open = open_packs < self._job.packs[level]
        if self._is_covered(part, name, rows):
            return
        middle = self._job.scenario.frames[name].middle
        for place, (landing, stack) in enumerate(zip(self._landings, part.stacks, strict=True)):
            if landing.level != level or not (stack.layers or may_open):
                continue
            if group is not None and part.homes[group] not in (-1, place):
                continue
            homes = part.homes
            if group is not None:
                homes = (*homes[:group], place, *homes[group + 1 :])
            walked_m = part.walked_m + dist(landing.places[0].at, middle) / 1000
            most = self._job.most_grams[landing.name]
            for how, after in self._laying.laid(stack, name, most, rows[place]):
                stacks = (*part.stacks[:place], after, *part.stacks[place + 1 :])
                laid = Laid(name, landing.name, how)
                yield _Part(standing, stacks, part.left_over, homes, walked_m, part, laid)
        if len(part.left_over) < taste.most_left_over and group is None:
            left = tuple(sorted((*part.left_over, name)))
            yield _Part(standing, part.stacks, left, part.homes, part.walked_m, part, Laid(name, "", None))

    def _is_covered(self, part: _Part, name: str, rows: Sequence[tuple[float, float]]) -> bool:
        """Tell whether a pack that still has frames when this one is stood would lie on its line.

        How long the pack will be is only guessed: the check of the whole load knows.
        """
        return any(
            stack.layers > 0
            and landing.level == self._level[name]
            and name in self._standing.covered(landing, max(row[0], stack.largest_frame[0]), row[1])
            for landing, stack, row in zip(self._landings, part.stacks, rows, strict=True)
        )

    def _cost(self, part: _Part, rows: Sequence[tuple[float, float]], taste: Taste) -> float | None:
        """Return how little a part-built load promises, None when it leads nowhere."""
        remaining = self._lengths_left(part.standing)
        total = taste.walking * part.walked_m + taste.left_over * len(part.left_over)
        carried = dict.fromkeys(remaining, 0.0)
        open_packs = dict.fromkeys(remaining, 0)
        too_long: dict[int, list[float]] = {}
        for place, stack in enumerate(part.stacks):
            if not stack.layers:
                continue
            level = self._landings[place].level
            cost, carries, over = self._stack_cost(stack, level, rows[place][0], taste)
            total += cost
            open_packs[level] += 1
            carried[level] = max(carried[level], carries)
            if over > 0:
                too_long.setdefault(level, []).append(stack.largest_row[0])
        room = taste.most_left_over - len(part.left_over)
        for level, lengths in remaining.items():
            unfit = len(lengths) - bisect.bisect_right(lengths, carried[level])
            if open_packs[level] >= self._most_packs[level] and unfit > room:
                return None
            needed = sorted(too_long.get(level, ()), reverse=True)
            if len(needed) > len(lengths) or any(map(operator.gt, needed, reversed(lengths))):
                return None
        return total

    def _stack_cost(
        self, stack: Stack, level: int, row_mm: float, taste: Taste
    ) -> tuple[float, float, float]:
        """Return what one stack costs, how long a frame it takes, and how far its longest row is too long."""
        carries = stack.carries[0]
        over = stack.largest_row[0] - stack.largest_frame[0]
        cost = max(0.0, row_mm - carries) + max(0.0, taste.too_long_rows * over)
        layers = taste.layers * stack.layers**2 / self._job.most_layers[level]
        return cost / 1000 + layers, carries + 2 * self._job.limits.overhang_mm, over

    def _lengths_left(self, standing: int) -> Mapping[int, tuple[int, ...]]:
        """Return the lengths of the frames still standing, by level, shortest first."""
        found = self._remaining.get(standing)
        if found is None:
            lengths: dict[int, list[int]] = {level: [] for level in self._job.scenario.levels}
            for place, name in enumerate(self._standing.names):
                if standing >> place & 1:
                    lengths[self._level[name]].append(self._job.length_mm[name])
            found = {level: tuple(sorted(each)) for level, each in lengths.items()}
            self._remaining[standing] = found
        return found

    def _finished(self, part: _Part) -> Found | None:
        """Return a load with what was left over put in; None where it has no room or a row is too long."""
        steps = list(_steps(part))
        packs = [
            [step for step in steps if step.landing == landing.name and step.how is not None]
            for landing in self._landings
        ]
        for name in sorted(part.left_over, key=lambda each: (-self._job.length_mm[each], each)):
            if not self._put_in(name, packs):
                return None
        stacks = (
            self._relaid(pack, landing) for pack, landing in zip(packs, self._landings, strict=True) if pack
        )
        if not all(stack is not None and stack.fits_its_frames for stack in stacks):
            return None
        order = tuple(step.frame for step in reversed(steps))
        return Found(order, tuple(step for pack in packs for step in pack), part.left_over)

    def _put_in(self, name: str, packs: list[list[Laid]]) -> bool:
        """Put a frame in the first pack and the highest layer that it fits; tell whether there is any."""
        for place, landing in enumerate(self._landings):
            pack = packs[place]
            if landing.level != self._level[name] or not pack:
                continue
            for start in range(len(pack), -1, -1):
                if start < len(pack) and pack[start].how != "new layer":
                    continue
                ways = ("new layer", *self._laying.ways) if start else ("new layer",)
                for how in ways:
                    tried = [*pack[:start], Laid(name, landing.name, how), *pack[start:]]
                    if self._relaid(tried, landing) is not None:
                        packs[place] = tried
                        return True
        return False

    def _relaid(self, pack: Sequence[Laid], landing: Landing) -> Stack | None:
        """Return the stack of a whole pack laid again from the bottom; None where the limits forbid it."""
        most = (
            float(max(self._job.length_mm[step.frame] for step in pack)),
            float(max(self._job.width_mm[step.frame] for step in pack)),
        )
        stack = Stack()
        for step in pack:
            ways = dict(self._laying.laid(stack, step.frame, self._job.most_grams[landing.name], most))
            if step.how not in ways:
                return None
            stack = ways[step.how]
        return stack


def _steps(part: _Part) -> Iterator[Laid]:
    """Return what was laid, the first laid first."""
    steps: list[Laid] = []
    at: _Part | None = part
    while at is not None:
        if at.laid is not None:
            steps.append(at.laid)
        at = at.before
    return reversed(steps)
