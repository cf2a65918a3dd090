"""How much cheaper the prices make what is left of a real plan, at most, by what lies on the spots."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from packseq.standup.states.bits import Flags, Whole
from packseq.standup.states.contents import ON_LINE, ON_PACK, Contents, Small, Spots
from packseq.standup.states.prices import Crowd, Pair, Prices, Statement


class Rebates:
    """The rebates of states at the prices of one search; what a state's contents decide is left out.

    A move changes where one frame is: only what is said of that frame is reckoned anew.
    """

    def __init__(self, spots: Spots, prices: Prices) -> None:
        self._spots, self._prices = spots, prices
        self._statements = [statement for statement, price in prices.statements.items() if price]
        self._said_of: dict[int, list[Statement]] = defaultdict(list)
        for statement in self._statements:
            for frame in _frames(statement):
                self._said_of[frame].append(statement)

    @property
    def most(self) -> int:
        """No state has a higher rebate."""
        by_spot = np.maximum(self._prices.by_spot.max(axis=1, initial=0), 0)[self._spots.waiting]
        return self._prices.allowed + int(by_spot.sum())

    def of(self, contents: Contents) -> Whole:
        """Return the rebate of each state."""
        rebate = self._open(contents, self._statements)
        for frame in self._spots.waiting:
            rebate += self._by_spot(contents, frame)
        return rebate

    def after(self, rebate: Whole, before: Contents, after: Contents, moved: Whole) -> Whole:
        """Return the rebate of each state from that of the state before and the frame moved in between."""
        rebate = rebate.copy()
        for frame in np.unique(moved).tolist():
            if self._spots.column[frame] < 0:
                continue
            rows = np.flatnonzero(moved == frame)
            statements = self._said_of.get(frame, [])
            for contents, sign in ((before, -1), (after, 1)):
                part = contents.only(rows)
                rebate[rows] += sign * (self._by_spot(part, frame) + self._open(part, statements))
        return rebate

    def _by_spot(self, contents: Contents, frame: int) -> Whole:
        # The last two entries are for a frame on its line and one on its pack.
        prices = np.append(self._prices.by_spot[frame], (0, 0))
        rebate: Whole = prices[contents.at[:, self._spots.column[frame]]]
        return rebate

    def _open(self, contents: Contents, statements: list[Statement]) -> Whole:
        """Return what some statements still allow, each times its price."""
        # Column by column, so that each is in one piece.
        at, height = np.asfortranarray(contents.at), np.asfortranarray(contents.height)
        contents = Contents(at, height)
        rebate = np.zeros(len(contents), dtype=np.int64)
        for statement in statements:
            price = self._prices.statements[statement]
            if isinstance(statement, Pair):
                rebate += price * self._pair_open(contents, statement)
            else:
                rebate += price * self._room(contents, statement).astype(np.int64)
        return rebate

    def _pair_open(self, contents: Contents, pair: Pair) -> Flags:
        """Tell in which states one of the two moves that a pair speaks of can still be made."""
        under, over = self._spots.column[pair.under], self._spots.column[pair.over]
        at_under, at_over = contents.at[:, under], contents.at[:, over]
        below = (at_over == pair.spot) & (contents.height[:, under] < contents.height[:, over])
        decided = (at_under >= 0) & (at_over >= 0) & ((at_under != pair.spot) | below)
        still_open: Flags = (at_under != ON_LINE) & (at_over != ON_LINE) & ~decided
        return still_open

    def _room(self, contents: Contents, crowd: Crowd) -> Small:
        """Return how many of the moves that a crowd allows can still be made."""
        count = len(contents)
        here, on_pack = np.zeros(count, dtype=np.int8), np.zeros(count, dtype=np.int8)
        stands = np.zeros(count, dtype=np.bool_)
        # Frame by frame: numpy is slow to gather up so short an axis.
        for column in self._spots.column[list(crowd.frames)].tolist():
            where = contents.at[:, column]
            here += (where == crowd.spot).view(np.int8)
            on_pack += (where == ON_PACK).view(np.int8)
            stands |= where == ON_LINE
        another = (contents.at[:, self._spots.column[crowd.another]] == ON_PACK) & ~stands
        room: Small = np.minimum(np.int8(crowd.allows) - here, on_pack + another.view(np.int8))
        return np.maximum(room, 0)


def _frames(statement: Statement) -> tuple[int, ...]:
    if isinstance(statement, Pair):
        return statement.under, statement.over
    return *statement.frames, statement.another
