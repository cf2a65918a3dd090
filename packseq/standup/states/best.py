"""The best plan of one job by its states, in rounds: better prices, then a wider search."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import chain, repeat

from packseq.plan.build import Step
from packseq.standup.states.guide import Guide
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, Moves, Scale, costed_moves
from packseq.standup.states.prices import Market, Prices, no_prices
from packseq.standup.states.seek import seek
from packseq.standup.states.space import Space, open_space
from packseq.standup.states.yard import Yard

# Rounds of pricing, and how many states of a layer the search then keeps. Chosen by trial.
_ROUNDS = ((30, 100), (100, 1_000), (200, 10_000), (150, 100_000))
_LAST_ROUND = (50, 1_000_000)
_NARROW = 1_000

_MOST_STATES = 30_000

_WORK_PER_STATE = 40
"""Moves passed in pricing take about as long as a state in the search divided by this."""


class Prospect:
    """One job being searched: what a plan costs at least, and the best plan found.

    `bound` is a lower bound on every plan in the space, `cost` that of the best plan found here, and
    `work` how much has been done, in moves passed. `whole` tells whether every plan is in the space, as far
    as the job leaves none out; `prices` are those that the bound was found with.
    """

    def __init__(self, yard: Yard, moves: Moves, *, whole: bool, prices: Prices | None = None) -> None:
        self.yard = yard
        self.whole = whole
        self._market = Market(moves)
        self.prices: Prices = no_prices(moves) if prices is None else prices
        whole_cost = self._market.onward(self.prices).whole
        self.bound = whole_cost - (self.prices.allowed if whole_cost < FAR else 0)
        self.cost: int | None = None
        self.steps: tuple[Step, ...] = ()
        self.work = 0
        self._rounds = chain(_ROUNDS, repeat(_LAST_ROUND))

    def go_on(self, most: int, stopped: Callable[[], bool], order: Sequence[str] = ()) -> None:
        """Do one more round, looking only for plans that cost less than `most`.

        Where none is found in a narrow round it looks once more, only for those whose piles suit an order of
        standing, if one is given.
        """
        rounds, width = next(self._rounds)
        moves = self._market.moves
        self.work += rounds * (len(moves) + 50 * len(moves.starts))
        prices, bound = self._market.raised(
            self.prices, most, rounds, lambda bound: bound >= most or stopped()
        )
        if bound >= most:
            self.bound = most
            return
        if bound > self.bound or self.bound <= 0:
            self.prices = prices
        self.bound = max(self.bound, bound)
        onward = self._market.onward(self.prices)
        kept = self._market.relaxed.worth_keeping(onward, most + self.prices.allowed)
        if 2 * int(kept.sum()) < len(moves):
            self._market = Market(moves.only(kept))
            onward = self._market.onward(self.prices)
        look = partial(seek, self._market.moves, onward, self.prices, most=most, width=width, stopped=stopped)
        found = look()
        self.work += _WORK_PER_STATE * found.states
        self.bound = max(self.bound, found.bound)
        if found.moves is None and self.bound < most and order and width <= _NARROW:
            found = look(piled_for=order)
            self.work += _WORK_PER_STATE * found.states
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
    yard: Yard, most_lifts: int, scale: Scale, *, stopped: Callable[[], bool]
) -> tuple[Prospect | None, bool]:
    """Return the search over all plans with at most so many extra lifts, and whether it could be opened.

    It cannot where there are too many states. The search is None where there is no such plan.
    """
    space = open_space(yard, most_lifts, most_states=_MOST_STATES, stopped=stopped)
    return (None, False) if space is None else (_prospect(yard, space, scale), True)


def open_cut(
    yard: Yard,
    most_lifts: int,
    scale: Scale,
    *,
    width: int,
    guide: Guide,
    near: int = 1,
    stopped: Callable[[], bool],
    prices: Prices | None = None,
) -> Prospect | None:
    """Return the search over plans through so many states of each layer, some near to those of the guide.

    It may begin with prices that served for other states of the job.
    """
    space = open_space(yard, most_lifts, width=width, guide=guide, near=near, stopped=stopped)
    return None if space is None else _prospect(yard, space, scale, prices)


def _prospect(yard: Yard, space: Space, scale: Scale, prices: Prices | None = None) -> Prospect | None:
    if not len(space):
        return None
    found = Prospect(yard, costed_moves(yard, space, scale), whole=space.whole, prices=prices)
    return found if found.bound < FAR else None
