"""The cheapest way on from every node, when a frame may be taken off another spot than it was put on.

That makes the state small, since it no longer matters what lies on which spot; and it makes every
answer a lower bound. Prices on the moves (`prices`) make up for what is left out.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from packseq.standup.states.bits import Flags, Whole, has_all
from packseq.standup.states.moves import FAR, ON_THE_LINE, Moves


@dataclass(frozen=True)
class Onward:
    """What is left to pay at least, prices included.

    `from_position` has shape (nodes, 1 + spots): what it costs to finish from a node with the team at
    a position; `priced` is the cost of each move, price included.
    """

    from_position: Whole
    priced: Whole

    @property
    def whole(self) -> int:
        """What a whole plan costs at least, prices included."""
        return int(self.from_position[0, ON_THE_LINE])


class Relaxed:
    """The moves laid out for passing over them layer by layer from the end."""

    def __init__(self, moves: Moves) -> None:
        self.moves = moves
        places = len(moves.yard.stops)
        key = moves.node * places + moves.place
        new = np.flatnonzero(np.diff(key, prepend=-1))
        bounds = np.searchsorted(moves.node, [*moves.starts, moves.nodes])
        self._layers = []
        for begin, end in reversed(list(zip(bounds[:-1].tolist(), bounds[1:].tolist(), strict=True))):
            if begin == end:
                continue
            groups = new[(new >= begin) & (new < end)]
            self._layers.append((begin, end, groups - begin, key[groups], np.unique(moves.node[begin:end])))
        self._reached = moves.target * (1 + len(moves.yard.spots)) + moves.position
        self._ends = has_all(moves.standing, moves.yard.todo)

    def onward(self, prices: Whole) -> Onward:
        """Return what is left to pay from every node, with a price on each move."""
        moves = self.moves
        spots = len(moves.yard.spots)
        priced = moves.cost + prices
        from_position = np.full((moves.nodes, 1 + spots), FAR, dtype=np.int64)
        from_position[self._ends] = 0
        at_place = np.full((moves.nodes, len(moves.yard.stops)), FAR, dtype=np.int64)
        flat, flat_place = from_position.reshape(-1), at_place.reshape(-1)
        for begin, end, groups, keys, nodes in self._layers:
            flat_place[keys] = np.minimum.reduceat(priced[begin:end] + flat[self._reached[begin:end]], groups)
            here = at_place[nodes]
            from_position[nodes, ON_THE_LINE] = (moves.line_to_place[nodes] + here).min(axis=1)
            walks = moves.spot_to_place[moves.spot_class[nodes]]
            from_position[nodes, 1:] = (walks + here[:, np.newaxis, :]).min(axis=2)
        np.minimum(from_position, FAR, out=from_position)
        return Onward(from_position, priced)

    def worth_keeping(self, onward: Onward, most: int) -> Flags:
        """Tell which moves some relaxed plan makes that costs less than `most`, prices included."""
        moves = self.moves
        spots = len(moves.yard.spots)
        reached = np.full((moves.nodes, 1 + spots), FAR, dtype=np.int64)
        reached[0, ON_THE_LINE] = 0
        flat = reached.reshape(-1)
        through = np.full(len(moves), FAR, dtype=np.int64)
        for begin, end, _, _, nodes in reversed(self._layers):
            walks = moves.spot_to_place[moves.spot_class[nodes]]
            at_place = (reached[nodes, 1:, np.newaxis] + walks).min(axis=1, initial=FAR)
            at_place = np.minimum(at_place, reached[nodes, :1] + moves.line_to_place[nodes])
            row = np.searchsorted(nodes, moves.node[begin:end])
            arrived = at_place[row, moves.place[begin:end]] + onward.priced[begin:end]
            ahead = self._reached[begin:end]
            np.minimum.at(flat, ahead, np.minimum(arrived, FAR))
            through[begin:end] = arrived + onward.from_position.reshape(-1)[ahead]
        kept: Flags = through < most
        return kept

    def cheapest(self, onward: Onward) -> list[int]:
        """Return the moves of a cheapest relaxed plan, in order; there must be one."""
        moves, node, position, taken = self.moves, 0, ON_THE_LINE, []
        while not self._ends[node]:
            rows = np.arange(moves.first_move[node], moves.first_move[node + 1])
            walk = walk_from(moves, node, position)[moves.place[rows]]
            left = onward.from_position[moves.target[rows], moves.position[rows]]
            best = int(rows[np.argmin(walk + onward.priced[rows] + left)])
            taken.append(best)
            node, position = int(moves.target[best]), int(moves.position[best])
        return taken


def walk_from(moves: Moves, node: int, position: int) -> Whole:
    """Return the cost of walking empty-handed from a position to each place."""
    walks: Whole = (
        moves.line_to_place[node]
        if position == ON_THE_LINE
        else moves.spot_to_place[moves.spot_class[node], position - 1]
    )
    return walks
