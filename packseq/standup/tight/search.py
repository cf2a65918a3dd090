"""The fewest extra lifts of one yard: a bound that rises, a plan that gets better."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from packseq.standup.tight.bound import Bound, in_the_way
from packseq.standup.tight.budget import Budget
from packseq.standup.tight.digging import STUCK, digging_lifts, dug, settled
from packseq.standup.tight.layer import Counts, Layer, gathered, keys_of
from packseq.standup.tight.moves import (
    Columns,
    carried_out,
    comes_under,
    set_asides,
    settle,
    stood,
    tidied,
    undecided,
)
from packseq.standup.tight.yard import Batch, Yard

_CHUNK = 2048
"""States looked at in one go: enough for long rows, few enough to stay in the processor's cache."""
_RATED = 10
"""For each state that a narrow run keeps, so many are rated by digging on from them."""
_SLACK = 3
"""Digging goes on for so many lifts past the best plan: what is a little worse is still told apart."""
_MEMORY_BYTES = 250_000_000
"""What the states of one run may take; a run that would take more is given up."""

States = tuple[Batch, ...]
"""The settled, tidied states of a plan: the first, and that after each set-aside."""


@dataclass(frozen=True, slots=True)
class _Ran:
    """What a run came to.

    `most` is the number of extra lifts that it looked for in the end, at most. `whole` tells that no
    state was dropped that could have led to so few, `cut` that some were dropped that need more.
    """

    most: int
    whole: bool
    cut: bool


class YardSearch:
    """Looks for the plan of one yard with the fewest extra lifts.

    Attributes
    ----------
    bound
        A number of extra lifts that every plan has at least.
    states
        The best plan so far, or None.
    impossible
        Whether it is proven that there is no plan.
    """

    def __init__(self, yard: Yard) -> None:
        self._yard = yard
        self._rest = Bound(yard)
        need = in_the_way(yard, yard.start)
        self._first = self._laid_out(yard.start, np.zeros(1, np.intp), need)
        self.bound = int(self._first.need.min())
        self.impossible = False
        self.states: States | None = None
        self._far = 4 * len(yard.frames)
        lifts = digging_lifts(yard, self._first.batch, self._far)
        if lifts.min() < STUCK:
            self._keep([self._first], int(lifts.argmin()))

    @property
    def value(self) -> int | None:
        """The extra lifts of the best plan so far."""
        return None if self.states is None else len(self.states) - 1

    @property
    def done(self) -> bool:
        """Tell whether nothing is left to find."""
        return self.impossible or self.value == self.bound

    def improve(self, width: int, budget: Budget) -> None:
        """Look for a better plan, keeping of each layer only so many states, those that look best."""
        if not self.done:
            self._note(self._run(self._far if self.value is None else self.value - 1, budget, width))

    def prove(self, budget: Budget, enough: int | None = None) -> None:
        """Raise the bound while budget and memory last, until a plan is proven or `enough` is reached."""
        while not self.done and (enough is None or self.bound < enough):
            ran = self._run(self.bound, budget, None)
            self._note(ran)
            if not ran.whole:
                return

    def _note(self, ran: _Ran) -> None:
        """Learn from a run that dropped nothing: every plan with at most `ran.most` lifts was found."""
        if ran.whole and (self.value is None or self.value > ran.most):
            self.impossible = self.value is None and not ran.cut
            self.bound = max(self.bound, ran.most + 1)

    def _run(self, most: int, budget: Budget, width: int | None) -> _Ran:
        """Look layer by layer for a plan of at most `most` extra lifts; in a narrow run for ever fewer."""
        layers = [self._first]
        whole, cut = True, False
        while len(layers) <= most:
            made = len(layers)
            following = self._following(layers, most - made, budget)
            if following is None:
                return _Ran(most, whole=False, cut=True)
            layer, left_out = following
            cut |= left_out
            if not layer.count:
                return _Ran(most, whole, cut)
            if width is None:
                stands = np.flatnonzero((layer.batch.heap == self._yard.stands).all(axis=0))
                layers.append(layer)
                if stands.size:
                    self._keep(layers, int(stands[0]))
                    return _Ran(most, whole, cut)
                continue
            best = self._best(layers, layer, width, budget)
            whole &= best.count == layer.count
            layers.append(best)
            if self.done:
                return _Ran(most, whole=False, cut=True)
            most = most if self.value is None else min(most, self.value - 1)
        return _Ran(most, whole, cut=True)

    def _following(self, layers: Sequence[Layer], left: int, budget: Budget) -> tuple[Layer, bool] | None:
        """Return the states after the last layer that need at most `left` more lifts, and whether others do.

        None when budget or memory ran out on the way.
        """
        last = layers[-1]
        parts: list[Layer] = []
        cut = False
        # A state takes three codes for each frame, a key, a parent, a bound and a set of what stands.
        codes = 3 * len(self._yard.frames) * self._yard.start.heap.itemsize
        room = _MEMORY_BYTES // (codes + 28)
        room -= sum(layer.count for layer in layers)
        for columns in _chunks(last.count):
            if not budget.left or sum(part.count for part in parts) > room:
                return None
            part, left_out = self._expanded(layers, columns, left, budget)
            parts.append(part)
            cut |= left_out
        found = gathered(parts)
        for older in layers[:-2]:
            found = found.without(older)
        return found, cut

    def _expanded(
        self, layers: Sequence[Layer], columns: Columns, left: int, budget: Budget
    ) -> tuple[Layer, bool]:
        """Return the same for some columns of the last layer; states of layers long before may come again."""
        yard = self._yard
        batch = layers[-1].batch.take(columns)
        lifts = set_asides(yard, batch)
        budget.spend(len(lifts.column))
        under = comes_under(yard, batch, lifts)
        need = in_the_way(yard, batch)[lifts.column]
        need -= batch.under[lifts.frame, lifts.column] != yard.nothing
        need += under != yard.nothing
        hopeful = np.flatnonzero(need <= left)
        cut = hopeful.size < need.size
        lifts, need = lifts.take(hopeful), need[hopeful]
        after = carried_out(yard, batch, lifts, under[hopeful])
        found = self._laid_out(after, columns[lifts.column], need, layers[-2:])
        hopeful = np.flatnonzero(found.need <= left)
        cut |= hopeful.size < found.count
        return found.take(hopeful), cut

    def _laid_out(self, batch: Batch, parent: Columns, need: Counts, older: Sequence[Layer] = ()) -> Layer:
        """Return all states that some states come to by stands, without those of older layers.

        `need` counts the frames in the way; no stand changes that.
        """
        yard = self._yard
        batch = settle(yard, batch, yard.ready)
        parts = [_layer(tidied(yard, batch), parent, need)]
        while not yard.ready.all():
            frame, column = undecided(yard, batch)
            if not frame.size:
                break
            batch = settle(yard, stood(yard, batch, column, frame), yard.ready)
            parent, need = parent[column], need[column]
            parts.append(_layer(tidied(yard, batch), parent, need))
        found = gathered(parts)
        for layer in older:
            found = found.without(layer)
        return replace(found, need=found.need + self._rest.beyond(found.batch))

    def _best(self, layers: Sequence[Layer], layer: Layer, width: int, budget: Budget) -> Layer:
        """Return the states from which digging on takes the fewest lifts, and keep the best plan yet."""
        made = len(layers)
        rated = np.sort(np.argsort(layer.need, kind="stable")[: width * _RATED])
        layer = layer.take(rated)
        most = self._far if self.value is None else self.value - made + _SLACK
        lifts = np.full(layer.count, STUCK)
        for columns in _chunks(layer.count):
            if budget.left:
                lifts[columns] = digging_lifts(self._yard, layer.batch.take(columns), most)
                budget.spend(int(np.minimum(lifts[columns], most).sum()))
        first = int(lifts.argmin())
        total = made + int(lifts[first])
        if lifts[first] < STUCK and (self.value is None or total < self.value):
            self._keep([*layers, layer], first)
        return layer.take(np.sort(np.lexsort((layer.need, lifts))[:width]))

    def _keep(self, layers: Sequence[Layer], column: int) -> None:
        """Keep the plan that leads to a state of the last layer and digs on from there."""
        states: list[Batch] = []
        for layer in reversed(layers):
            states.insert(0, layer.batch.take(np.array([column])))
            column = int(layer.parent[column])
        yard = self._yard
        now = settled(yard, states.pop())
        states.append(tidied(yard, now))
        while not (now.heap == yard.stands).all():
            now = settled(yard, carried_out(yard, now, *dug(yard, now)))
            states.append(tidied(yard, now))
        self.states = tuple(states)


def _chunks(count: int) -> Iterator[Columns]:
    return (np.arange(begin, min(begin + _CHUNK, count)) for begin in range(0, count, _CHUNK))


def _layer(batch: Batch, parent: Columns, need: Counts) -> Layer:
    return Layer(batch, keys_of(batch), parent, need)
