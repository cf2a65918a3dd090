"""The best plan, looked for layer by layer through all states with what lies on which spot.

The bound of the relaxed plan says of each state what the whole plan costs at least if it comes
through it. Where that is no less than what a known plan costs, the state is left out. If then no
layer has more states than the search may keep, the best plan left is the best of all; if some are
dropped, the least of their bounds is a bound on every plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from packseq.standup.states.bits import Whole
from packseq.standup.states.contents import Contents, Spots
from packseq.standup.states.moves import FAR, ON_THE_LINE, Moves
from packseq.standup.states.prices import Prices
from packseq.standup.states.rebates import Rebates
from packseq.standup.states.relaxed import Onward

# States are expanded in pieces, because what follows one takes many times its room until it is pruned. Two
# pieces at a time, each on a core of its own: numpy lets others run while it works.
_PIECE = 25_000
_AT_A_TIME = 2


@dataclass(frozen=True)
class Sought:
    """What a search found: the moves of the best plan, its cost, and the least that any plan costs.

    `moves` and `cost` are None where no plan costs less than the one known; `bound` is then that of
    the known plan if nothing was dropped.
    """

    moves: list[int] | None
    cost: int | None
    bound: int
    states: int


@dataclass(frozen=True)
class _Trail:
    """How each state of a layer was reached: row and layer of the state before, and the move."""

    before: Whole
    before_layer: Whole
    move: Whole


@dataclass(frozen=True)
class _Layer:
    """States of one layer, their cost so far, the least that a plan through them costs, and the way back.

    `rebate` is what the prices may take off what is left at most.
    """

    node: Whole
    position: Whole
    cost: Whole
    least: Whole
    rebate: Whole
    contents: Contents
    trail: _Trail

    def only(self, rows: Whole) -> _Layer:
        return _Layer(
            self.node[rows],
            self.position[rows],
            self.cost[rows],
            self.least[rows],
            self.rebate[rows],
            self.contents.only(rows),
            _Trail(self.trail.before[rows], self.trail.before_layer[rows], self.trail.move[rows]),
        )


def seek(
    moves: Moves,
    onward: Onward,
    prices: Prices,
    *,
    most: int,
    width: int,
    stopped: Callable[[], bool],
    piled_for: Sequence[str] = (),
) -> Sought:
    """Return the best plan that costs less than `most`, keeping at most `width` states of a layer.

    Parameters
    ----------
    moves, onward, prices
        The moves, and what is left to pay at these prices.
    most
        What a known plan costs.
    width
        How many states of a layer go on, those with the least bounds.
    stopped
        Asked before every layer; True drops all that is left.
    piled_for
        An order of standing that all piles suit, if one is given: a plan close to it is then found sooner.
        The bound is that of such plans only.
    """
    return _Search(moves, onward, prices, Spots(moves, piled_for), most=most, width=width).run(stopped)


class _Search:
    def __init__(
        self, moves: Moves, onward: Onward, prices: Prices, spots: Spots, *, most: int, width: int
    ) -> None:
        self._moves, self._onward = moves, onward
        self._most, self._width = most, width
        self._spots = spots
        self._rebates = Rebates(self._spots, prices)
        self._dropped = int(FAR)
        self._states = 0
        layers = len(moves.starts)
        self._layer_of = np.searchsorted(moves.starts, np.arange(moves.nodes), side="right") - 1
        self._pending: list[list[_Layer]] = [[] for _ in range(layers)]
        self._trails: list[_Trail | None] = [None] * layers
        dice = np.random.default_rng(0)
        # Odd numbers, so that no bit of what they are multiplied with is lost.
        words = 1 + self._spots.empty().words().shape[1]
        self._mixer = dice.integers(0, 2**63, size=words, dtype=np.uint64) * np.uint64(2) + np.uint64(1)

    def run(self, stopped: Callable[[], bool]) -> Sought:
        moves, nothing = self._moves, np.zeros(1, dtype=np.int64)
        trail = _Trail(nothing, nothing, nothing)
        empty = self._spots.empty()
        first = _Layer(nothing, nothing, nothing, nothing, self._rebates.of(empty), empty, trail)
        self._pending[0].append(first)
        with ThreadPoolExecutor(_AT_A_TIME) as team:
            for layer in range(len(moves.starts)):
                states = self._settle(layer)
                if states is None:
                    continue
                if layer == len(moves.starts) - 1:
                    return self._arrived(states)
                if stopped():
                    self._dropped = min(self._dropped, int(states.least.min()))
                    continue
                for following in self._following(states, layer, team):
                    self._pending[int(self._layer_of[following.node[0]])].append(following)
        return Sought(None, None, min(self._most, self._dropped), self._states)

    def _following(self, states: _Layer, layer: int, team: ThreadPoolExecutor) -> Iterator[_Layer]:
        """Yield the states that follow those of a layer, in an order that is the same every time."""
        count = len(states.node)
        pieces = [np.arange(begin, min(begin + _PIECE, count)) for begin in range(0, count, _PIECE)]
        # Few are handed over at once, so that little is left to be done if the program is ended meanwhile.
        for begin in range(0, len(pieces), _AT_A_TIME):
            some = pieces[begin : begin + _AT_A_TIME]
            for each in team.map(lambda piece: self._expand(states.only(piece), piece, layer), some):
                yield from each

    def _settle(self, layer: int) -> _Layer | None:
        """Tell the states of a layer apart, keep the cheapest way to each, and drop the worst."""
        arrivals, self._pending[layer] = self._pending[layer], []
        if not arrivals:
            return None
        states = _joined(arrivals)
        states = states.only(self._cheapest(states))
        if len(states.node) > self._width:
            order = np.argsort(states.least, kind="stable")
            self._dropped = min(self._dropped, int(states.least[order[self._width]]))
            states = states.only(np.sort(order[: self._width]))
        self._states += len(states.node)
        # Once the layer is expanded, only the way back is needed.
        trail = states.trail
        self._trails[layer] = _Trail(
            trail.before.astype(np.int32), trail.before_layer.astype(np.int32), trail.move.astype(np.int32)
        )
        return states

    def _cheapest(self, states: _Layer) -> Whole:
        """Return the rows that no equal state is cheaper than, one of each."""
        places = 1 + len(self._moves.yard.spots)
        where = (states.node * places + states.position).view(np.uint64)
        rows = np.hstack((where[:, np.newaxis], states.contents.words()))
        mixed = (rows * self._mixer[: rows.shape[1]]).sum(axis=1)
        order = np.argsort(mixed)
        # Equal states lie side by side now. Different ones that mix alike may part them: nothing is lost.
        same = np.ones(len(order) - 1, dtype=np.bool_)
        for word in rows.T:
            same &= word[order[1:]] == word[order[:-1]]
        starts = np.flatnonzero(np.concatenate(([True], ~same)))
        cost = states.cost[order]
        least = np.repeat(np.minimum.reduceat(cost, starts), np.diff(starts, append=len(order)))
        cheapest = np.minimum.reduceat(np.where(cost == least, order, len(order)), starts)
        return np.sort(cheapest)

    def _expand(self, states: _Layer, number: Whole, layer: int) -> list[_Layer]:
        """Return the states that follow, by layer, without those that cost too much.

        `number` holds the rows of the states in their layer.
        """
        moves = self._moves
        first, last = moves.first_move[states.node], moves.first_move[states.node + 1]
        lengths = last - first
        ends = np.cumsum(lengths)
        row = np.repeat(np.arange(len(states.node)), lengths)
        move = np.arange(ends[-1]) - np.repeat(ends - lengths, lengths) + first[row]
        walk = moves.line_to_place[states.node[row], moves.place[move]]
        by_spot = np.flatnonzero(states.position[row] != ON_THE_LINE)
        walk[by_spot] = moves.spot_to_place[
            moves.spot_class[states.node[row[by_spot]]],
            states.position[row[by_spot]] - 1,
            moves.place[move[by_spot]],
        ]
        cost = states.cost[row] + walk + moves.cost[move]
        target, position = moves.target[move], moves.position[move]
        left = self._onward.from_position[target, position]
        # At first without what the contents take off: that can only leave too much in.
        near = np.flatnonzero(cost + left - self._rebates.most < self._most)
        row, move, cost, target, position, left = (
            each[near] for each in (row, move, cost, target, position, left)
        )
        before = states.contents.only(row)
        contents, possible = self._spots.after(before, move)
        can = np.flatnonzero(possible)
        before, contents = before.only(can), contents.only(can)
        rebate = self._rebates.after(states.rebate[row[can]], before, contents, moves.frame[move[can]])
        least = cost[can] + left[can] - rebate
        np.maximum(least, states.least[row[can]], out=least)
        good = np.flatnonzero(least < self._most)
        can = can[good]
        after = _Layer(
            target[can],
            position[can],
            cost[can],
            least[good],
            rebate[good],
            contents.only(good),
            _Trail(number[row[can]], np.full(len(can), layer, dtype=np.int64), move[can]),
        )
        reached = self._layer_of[after.node]
        return [after.only(np.flatnonzero(reached == each)) for each in np.unique(reached).tolist()]

    def _arrived(self, end: _Layer) -> Sought:
        """Return the cheapest of the states where everything stands."""
        row, layer = int(end.cost.argmin()), len(self._trails) - 1
        cost = int(end.cost[row])
        taken: list[int] = []
        while layer > 0:
            trail = self._trails[layer]
            assert trail is not None  # noqa: S101 - a state that led on has left its trail
            taken.append(int(trail.move[row]))
            row, layer = int(trail.before[row]), int(trail.before_layer[row])
        return Sought(taken[::-1], cost, min(cost, self._dropped), self._states)


def _joined(parts: list[_Layer]) -> _Layer:
    def column(name: str) -> Whole:
        return np.concatenate([getattr(each, name) for each in parts])

    contents = Contents(
        np.concatenate([each.contents.at for each in parts]),
        np.concatenate([each.contents.height for each in parts]),
    )
    return _Layer(
        column("node"),
        column("position"),
        column("cost"),
        column("least"),
        column("rebate"),
        contents,
        _Trail(
            np.concatenate([each.trail.before for each in parts]),
            np.concatenate([each.trail.before_layer for each in parts]),
            np.concatenate([each.trail.move for each in parts]),
        ),
    )
