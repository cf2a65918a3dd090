"""Every state that a plan with few enough extra lifts can come through, and the lifts between them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from packseq.standup.states.bits import Bits, Flags, Whole, has_all, has_any, missing, sizes
from packseq.standup.states.detours import Detours
from packseq.standup.states.guide import NO_GUIDE, Guide
from packseq.standup.states.kinds import Kind
from packseq.standup.states.waysin import WaysIn
from packseq.standup.states.yard import Yard


@dataclass(frozen=True)
class Edges:
    """Lifts that lead from one state to another, each array with an entry a lift."""

    source: Whole
    frame: Whole
    kind: Whole
    target: Whole

    def __len__(self) -> int:
        return len(self.source)

    def only(self, wanted: Flags | Whole) -> Edges:
        """Return some of the lifts."""
        return Edges(self.source[wanted], self.frame[wanted], self.kind[wanted], self.target[wanted])


@dataclass(frozen=True)
class Space:
    """States by number, those of fewer done lifts first, and the lifts between them.

    A state is what has left the packs and what stands; what has left its pack and does not stand
    waits on some spot. The first state is the beginning; the last, where all stands, is the end.
    A lift to a line takes a state two layers on, one to a spot or off it one layer; `starts` has the
    first state of each layer. `whole` is False where states were dropped.
    """

    gone: Bits
    standing: Bits
    starts: tuple[int, ...]
    edges: Edges
    whole: bool

    def __len__(self) -> int:
        return len(self.gone)


def open_space(
    yard: Yard,
    most_lifts: int,
    *,
    most_states: int | None = None,
    width: int | None = None,
    guide: Guide = NO_GUIDE,
    near: int = 1,
    stopped: Callable[[], bool] = lambda: False,
) -> Space | None:
    """Return the states that plans with at most `most_lifts` extra lifts come through.

    Every plan is in it that sets no frame aside more than once and keeps all rules but spot-room
    and what else depends on the very spot a frame waits on.

    Parameters
    ----------
    yard, most_lifts
        The job, and the most extra lifts of its plans.
    most_states
        Where there are more, nothing is returned.
    width
        Only so many states of each layer are kept, those to which the least is walked that could
        have been saved.
    guide, near
        States that are kept whatever the width, as far as they are states of such plans; so many of each
        layer are kept for being near to them.
    stopped
        Asked before every layer.

    Returns
    -------
    Space | None
        Without states if there is no such plan. None where there are more than `most_states`,
        or it was stopped.
    """
    reached = _Reached(yard, most_lifts, width, guide, near)
    for layer in range(yard.layers):
        if stopped():
            return None
        reached.go_on(layer)
        if most_states is not None and reached.count > most_states:
            return None
    return reached.space()


class _Reached:
    """States reached layer by layer, with the fewest lifts that reach them."""

    def __init__(self, yard: Yard, most_lifts: int, width: int | None, guide: Guide, near: int) -> None:
        self._yard = yard
        self._width, self._guide, self._near = width, guide, near
        self._whole = True
        self._detours = Detours(yard)
        self._ways_in = WaysIn(yard)
        self._most = most_lifts
        self._surely = yard.frames.mask(yard.job.surely_waiting)
        self.count = 0
        standing = yard.frames.mask(yard.job.stood)[np.newaxis]
        gone = yard.gone_at_first[np.newaxis]
        nothing = np.zeros(0, dtype=np.int64)
        self._pending: list[list[_Arrivals]] = [[] for _ in range(yard.layers + 1)]
        none = np.zeros(1, dtype=np.int64)
        self._pending[0] = [_Arrivals(gone, standing, none, none, none - 1, nothing, 0, 0, yard.frames.all)]
        self._gone: list[Bits] = []
        self._standing: list[Bits] = []
        self._fewest: list[Whole] = []
        self._starts: list[int] = []
        self._edges: list[Edges] = []

    def go_on(self, layer: int) -> None:
        """Settle the states of a layer and lift from each whatever can be lifted."""
        states = self._settle(layer)
        if states is None:
            return
        gone, standing, fewest, detour, last, first = states
        numbers = np.arange(first, first + len(gone))
        for frame, kind, liftable in self._lifts(gone, standing):
            aside = kind is Kind.ASIDE
            bit = self._yard.frames.mask([self._yard.frames.names[frame]])
            rows = liftable
            if aside:
                lifts = fewest[rows] + 1 + missing(gone[rows] | bit, self._surely)
                rows = liftable[lifts <= self._most]
            if len(rows):
                new_gone = gone[rows] if kind is Kind.OFF_SPOT else gone[rows] | bit
                new_standing = standing[rows] if aside else standing[rows] | bit
                farther = self._detours.of(frame, kind, last[rows])
                self._pending[layer + (2 if kind is Kind.STRAIGHT else 1)].append(
                    _Arrivals(
                        new_gone,
                        new_standing,
                        fewest[rows] + aside,
                        detour[rows] + farther,
                        last[rows] if aside else np.full(len(rows), frame),
                        numbers[rows],
                        frame,
                        kind,
                        bit,
                    )
                )

    def _settle(self, layer: int) -> tuple[Bits, Bits, Whole, Whole, Whole, int] | None:
        """Give every different state of a layer its number, and the lifts that reach it their target."""
        first = self.count
        self._starts.append(first)
        arrivals, self._pending[layer] = self._pending[layer], []
        if not arrivals:
            return None
        both = np.concatenate([np.hstack((each.gone, each.standing)) for each in arrivals])
        fewest, detour, last = (
            np.concatenate([getattr(each, name) for each in arrivals])
            for name in ("fewest", "detour", "last")
        )
        unique, place = np.unique(both, axis=0, return_inverse=True)
        place = place.reshape(-1)
        # Of each state the cheapest arrival: first by lifts, then by the detours made.
        order = np.lexsort((detour, fewest, place))
        cheapest = order[np.searchsorted(place[order], np.arange(len(unique)))]
        words = self._yard.frames.words
        gone, standing = unique[:, :words], unique[:, words:]
        fewest, detour, last = fewest[cheapest], detour[cheapest], last[cheapest]
        moved = np.concatenate([np.broadcast_to(each.moved, each.standing.shape) for each in arrivals])
        kept = self._worth_it(gone, standing, fewest, moved[cheapest])
        if self._width is not None and len(kept) > self._width:
            lifts = fewest[kept] + missing(gone[kept], self._surely)
            best_first = kept[np.lexsort((detour[kept], lifts))]
            kept = self._cut(best_first, self._width, unique, layer)

        number = np.full(len(unique), -1, dtype=np.int64)
        number[kept] = first + np.arange(len(kept))
        begin = 0
        for each in arrivals:
            count = len(each.source)
            target = number[place[begin : begin + count]]
            here = np.flatnonzero(target >= 0)
            self._edges.append(
                Edges(
                    each.source[here],
                    np.full(len(here), each.frame),
                    np.full(len(here), each.kind),
                    target[here],
                )
            )
            begin += len(each.gone)
        self.count += len(kept)
        self._gone.append(gone[kept])
        self._standing.append(standing[kept])
        self._fewest.append(fewest[kept])
        return gone[kept], standing[kept], fewest[kept], detour[kept], last[kept], first

    def _worth_it(self, gone: Bits, standing: Bits, fewest: Whole, moved: Bits) -> Whole:
        """Return the states of a layer that may lead on with few enough lifts."""
        lifts = fewest + missing(gone, self._surely)
        lost = np.zeros(len(gone), dtype=np.bool_)
        for known in self._yard.job.shut_out:
            frame = self._yard.frames.mask([known.frame])
            shut = has_all(standing, self._yard.frames.mask(known.by)) & ~has_any(standing, frame)
            if not known.unless_aside:
                lost |= shut
            elif known.frame not in self._yard.job.surely_waiting:
                # One lift for the first thing known to shut a frame out; more would count it again.
                lifts = np.maximum(
                    lifts, fewest + missing(gone, self._surely) + (shut & ~has_any(gone, frame))
                )
        kept = np.flatnonzero(~lost & (lifts <= self._most))
        return kept[self._ways_in.left_open(gone[kept], standing[kept], moved[kept])]

    def _cut(self, best_first: Whole, width: int, states: Bits, layer: int) -> Whole:
        """Return the best states of a layer, some of them for being near to the guide."""
        self._whole = False
        # Where the guide has no state of a layer it lifts a frame straight to its line, over two layers.
        guide = self._guide.get(layer, self._guide.get(layer - 1))
        if guide is None:
            return np.sort(best_first[:width])
        off = sizes(states[best_first] ^ guide)
        nearest = best_first[np.argsort(off, kind="stable")[: self._near]]
        return np.union1d(nearest, best_first[: width - self._near])

    def _lifts(self, gone: Bits, standing: Bits) -> Iterator[tuple[int, Kind, Whole]]:
        """Yield what can be lifted in which states of a layer."""
        yard = self._yard
        waiting, surely, never = frozenset(yard.job.waiting), yard.job.surely_waiting, yard.job.left_out
        every = np.arange(len(gone))
        for name in yard.job.moved:
            number = yard.frames.number[name]
            bit = yard.frames.mask([name])
            stands, left = has_any(standing, bit), has_any(gone, bit)
            on_top = ~left & has_all(gone, yard.above[name])
            here = np.flatnonzero(~stands & (left | on_top))
            if not len(here):
                continue
            may = np.zeros(len(gone), dtype=np.bool_)
            if name in never:
                here = here[:0]
            may[here] = yard.order.may_stand(name, standing[here]) & self._ground_is_clear(
                number, gone[here] | bit
            )
            off_spot = np.flatnonzero(may & left)
            if len(off_spot):
                yield number, Kind.OFF_SPOT, off_spot
            straight = np.flatnonzero(may & on_top) if name not in surely else every[:0]
            if len(straight):
                yield number, Kind.STRAIGHT, straight
            if name in waiting:
                aside = every[on_top]
                aside = aside[yard.order.floor_is_there(name, standing[aside])]
                aside = aside[self._ways_in.to_a_spot(number, standing[aside])]
                if len(aside):
                    yield number, Kind.ASIDE, aside

    def _ground_is_clear(self, frame: int, gone: Bits) -> Flags:
        clear = np.ones(len(gone), dtype=np.bool_)
        for pack in self._yard.packs_over[frame]:
            clear &= has_all(gone, self._yard.frames.mask(self._yard.packs[pack].frames))
        return clear

    def space(self) -> Space:
        """Return the states and lifts that lead on to the end with few enough lifts."""
        last = self._yard.layers
        self._settle(last)
        gone, standing = np.concatenate(self._gone), np.concatenate(self._standing)
        fewest = np.concatenate(self._fewest)
        edges = Edges(
            *(
                np.concatenate([getattr(each, name) for each in self._edges])
                for name in ("source", "frame", "kind", "target")
            )
        )
        to_go = np.full(len(gone), self._most + 1, dtype=np.int64)
        to_go[self._starts[last] :] = 0
        by_source = np.argsort(edges.source, kind="stable")
        edges = edges.only(by_source)
        bounds = np.searchsorted(edges.source, [*self._starts, len(gone)])
        for layer in reversed(range(last)):
            part = slice(bounds[layer], bounds[layer + 1])
            lifts = to_go[edges.target[part]] + (edges.kind[part] == Kind.ASIDE)
            np.minimum.at(to_go, edges.source[part], lifts)
        aside = edges.kind == Kind.ASIDE
        edges = edges.only(fewest[edges.source] + aside + to_go[edges.target] <= self._most)
        kept = fewest + to_go <= self._most
        number = np.cumsum(kept) - 1
        return Space(
            gone[kept],
            standing[kept],
            tuple(int(kept[:start].sum()) for start in self._starts),
            Edges(number[edges.source], edges.frame, edges.kind, number[edges.target]),
            self._whole,
        )


@dataclass(frozen=True)
class _Arrivals:
    """States reached by lifts of one frame of one kind, not yet told apart; `moved` is that frame."""

    gone: Bits
    standing: Bits
    fewest: Whole
    detour: Whole
    last: Whole
    source: Whole
    frame: int
    kind: int
    moved: Bits
