"""The best plan of one job by its states, in rounds: better prices, then a wider search."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import chain, repeat

from packseq.plan.build import Step
from packseq.standup.states.guide import NO_GUIDE, Guide
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, Moves, Scale, costed_moves
from packseq.standup.states.prices import Market, Prices, no_prices
from packseq.standup.states.seek import seek
from packseq.standup.states.space import Space, open_space
from packseq.standup.states.yard import Yard

# Rounds of pricing, and how many states of a layer the search then keeps. Chosen by trial.
_ROUNDS = ((30, 100), (100, 1_000), (200, 10_000), (150, 100_000))
_LAST_ROUND = (50, 1_000_000)

_MOST_STATES = 60_000
CUT_WIDTH = 2_000
"""Where there are more states, so many of each layer are kept, and the search is not whole."""

_WORK_PER_STATE = 40
"""Moves passed in pricing take about as long as a state in the search divided by this."""


class Prospect:
    """One job being searched: what a plan costs at least, and the best plan found.

    `bound` is a lower bound on every plan in the space, `cost` that of the best plan found here, and
    `work` how much has been done, in moves passed. `whole` tells whether the space has every plan.
    """

    def __init__(self, yard: Yard, moves: Moves, *, whole: bool) -> None:
        self.yard = yard
        self.whole = whole
        self._market = Market(moves)
        self._prices: Prices = no_prices(moves)
        onward = self._market.onward(self._prices)
        self.bound = onward.whole
        self.cost: int | None = None
        self.steps: tuple[Step, ...] = ()
        self.work = 0
        self._rounds = chain(_ROUNDS, repeat(_LAST_ROUND))

    def go_on(self, most: int, stopped: Callable[[], bool], piled_for: Sequence[str] = ()) -> None:
        """Do one more round, looking only for plans that cost less than `most`.

        Where an order of standing is given, only for those whose piles suit it.
        """
        rounds, width = next(self._rounds)
        moves = self._market.moves
        self.work += rounds * (len(moves) + 50 * len(moves.starts))
        prices, bound = self._market.raised(
            self._prices, most, rounds, lambda bound: bound >= most or stopped()
        )
        if bound >= most:
            self.bound = most
            return
        if bound > self.bound or self.bound <= 0:
            self._prices = prices
        self.bound = max(self.bound, bound)
        onward = self._market.onward(self._prices)
        kept = self._market.relaxed.worth_keeping(onward, most + self._prices.allowed)
        if 2 * int(kept.sum()) < len(moves):
            self._market = Market(moves.only(kept))
            onward = self._market.onward(self._prices)
        found = seek(
            self._market.moves,
            onward,
            self._prices,
            most=most,
            width=width,
            stopped=stopped,
            piled_for=piled_for,
        )
        self.work += _WORK_PER_STATE * found.states
        if not piled_for:
            self.bound = max(self.bound, found.bound)
        if found.moves is not None and found.cost is not None:
            self.cost = found.cost
            self.steps = tuple(self._step(move) for move in found.moves)

    def _step(self, move: int) -> Step:
        moves, yard = self._market.moves, self.yard
        name = yard.frames.names[int(moves.frame[move])]
        if moves.kind[move] == Kind.ASIDE:
            return Step("set aside", name, to_spot=yard.spots[int(moves.spot[move])].name)
        return Step("stand", name)


def open_prospect(
    yard: Yard,
    most_lifts: int,
    scale: Scale,
    *,
    stopped: Callable[[], bool],
    guide: Guide = NO_GUIDE,
) -> tuple[Prospect | None, bool]:
    """Return the search over plans with at most so many extra lifts, and whether it has all of them.

    The search is None where there is no such plan; where it is not whole there may be one all the same.
    Where there are too many states, those of the guide are among the ones kept.
    """
    space = open_space(yard, most_lifts, most_states=_MOST_STATES, stopped=stopped)
    if space is None:
        return open_cut(yard, most_lifts, scale, width=CUT_WIDTH, guide=guide, stopped=stopped), False
    return _prospect(yard, space, scale), space.whole


def open_cut(
    yard: Yard,
    most_lifts: int,
    scale: Scale,
    *,
    width: int,
    guide: Guide,
    stopped: Callable[[], bool],
) -> Prospect | None:
    """Return the search over plans through so many states of each layer, those of the guide among them."""
    space = open_space(yard, most_lifts, width=width, guide=guide, stopped=stopped)
    return None if space is None else _prospect(yard, space, scale)


def _prospect(yard: Yard, space: Space, scale: Scale) -> Prospect | None:
    if not len(space):
        return None
    found = Prospect(yard, costed_moves(yard, space, scale), whole=space.whole)
    return found if found.bound < FAR else None
