"""Prices on the moves that make up for what the relaxed plan leaves out, so that its bound is tight.

Lagrangian relaxation. Three kinds of statement hold for every real plan, and each is a sum over moves:

- a frame is taken off a spot as often as it is put on it (a price of either sign);
- of a pair in a pile: not both is the second put down while the first waits, and the first taken off
  while the second waits, or the last on would not be the first off;
- of a spot and as many frames as it holds: not all of these are put there and another one too while
  all of them wait.

Putting a price on breaking a statement leaves every real plan as cheap as it was, or cheaper by no
more than the price times what the statement allows. The prices are raised along the subgradient.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from packseq.standup.states.bits import Flags, Whole, has_all, has_any
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import FAR, Moves
from packseq.standup.states.relaxed import Onward, Relaxed

Floats = NDArray[np.float64]

# The subgradient method: kept direction, first step, when and by how much the step is cut.
# Chosen by trial on the demo houses.
_KEPT = 0.7
_FIRST_STEP = 1.0
_PATIENCE = 12
_CUT = 0.7
_SMALLEST_STEP = 0.01
# No plan is looked for that costs more than this many times the bound, while none is known.
_GOAL = 1.1


@dataclass(frozen=True, slots=True)
class Pair:
    """`under` put on a pile before `over`, and taken off it before `over`: one of the two at most."""

    under: int
    over: int
    spot: int
    allows: int = 1


@dataclass(frozen=True, slots=True)
class Crowd:
    """`frames`, as many as the spot holds, and `another` put there while all of them wait."""

    frames: tuple[int, ...]
    another: int
    spot: int

    @property
    def allows(self) -> int:
        """How many of the moves it speaks of a plan may make."""
        return len(self.frames)


Statement = Pair | Crowd


@dataclass
class Prices:
    """Prices for the moves of one job, kept while the moves become fewer.

    `by_spot` has shape (frames, spots): what is paid for taking a frame off a spot, and got for
    putting it on. `statements` have a price each, never below nothing.
    """

    by_spot: Whole
    statements: dict[Statement, int] = field(default_factory=dict)

    @property
    def allowed(self) -> int:
        """How much cheaper a real plan may have become."""
        return sum(price * statement.allows for statement, price in self.statements.items())


def no_prices(moves: Moves) -> Prices:
    """Return prices of nothing."""
    return Prices(np.zeros((len(moves.yard.frames), len(moves.yard.spots)), dtype=np.int64))


class Market:
    """The moves of one job and what each statement says of them."""

    def __init__(self, moves: Moves) -> None:
        self.moves = moves
        self.relaxed = Relaxed(moves)
        self._sign = np.where(moves.kind == Kind.OFF_SPOT, 1, np.where(moves.kind == Kind.ASIDE, -1, 0))
        # What is never stood stays on its spot.
        stays = [moves.yard.frames.number[name] for name in moves.yard.job.cleared]
        self._sign[np.isin(moves.frame, stays)] = 0
        self._spotted = np.flatnonzero(self._sign)
        self._rows: dict[Statement, Whole] = {}

    def onward(self, prices: Prices) -> Onward:
        """Return what is left to pay from every node at these prices."""
        moves = self.moves
        price = np.zeros(len(moves), dtype=np.int64)
        rows = self._spotted
        price[rows] = prices.by_spot[moves.frame[rows], moves.spot[rows]] * self._sign[rows]
        for statement, each in prices.statements.items():
            if each:
                price[self._concerned(statement)] += each
        return self.relaxed.onward(price)

    def raised(
        self, prices: Prices, most: int, rounds: int, enough: Callable[[int], bool]
    ) -> tuple[Prices, int]:
        """Return better prices and the bound they give.

        Parameters
        ----------
        prices
            Prices to begin with.
        most
            What a known plan costs: the steps are measured by how far the bound is from it.
        rounds
            How many times the prices are changed at most.
        enough
            Asked after each round with the bound so far; True ends it.
        """
        by_spot = prices.by_spot.astype(np.float64)
        by_statement = {statement: float(price) for statement, price in prices.statements.items()}
        best, bound = prices, -int(FAR)
        step, stalled = _FIRST_STEP, 0
        kept: tuple[Floats, dict[Statement, float]] | None = None
        for _ in range(rounds):
            trial = Prices(
                np.rint(by_spot).astype(np.int64),
                {statement: round(price) for statement, price in by_statement.items()},
            )
            onward = self.onward(trial)
            value = onward.whole - trial.allowed
            if value > bound:
                best, bound, stalled = trial, value, 0
            else:
                stalled += 1
            if enough(bound) or bound >= most or step < _SMALLEST_STEP:
                break
            if stalled >= _PATIENCE:
                step, stalled, kept = step * _CUT, 0, None
                by_spot = best.by_spot.astype(np.float64)
                by_statement |= {each: float(price) for each, price in best.statements.items()}
            plan = self.relaxed.cheapest(onward)
            for statement in self._broken(plan):
                by_statement.setdefault(statement, 0.0)
            one, many = self._excess(plan, by_statement)
            if kept is not None:
                one = one + _KEPT * kept[0]
                many = {each: value + _KEPT * kept[1].get(each, 0.0) for each, value in many.items()}
            kept = (one, many)
            size = float((one**2).sum()) + sum(value**2 for value in many.values())
            if size == 0:
                break
            length = step * max(1, min(most, round(_GOAL * value)) - value) / size
            by_spot += length * one
            for statement, excess in many.items():
                by_statement[statement] = max(0.0, by_statement[statement] + length * excess)
        return best, bound

    def _excess(
        self, plan: list[int], statements: dict[Statement, float]
    ) -> tuple[Floats, dict[Statement, float]]:
        """Return how far a relaxed plan breaks each statement; below nothing where it leaves some room."""
        moves = self.moves
        one = np.zeros((len(moves.yard.frames), len(moves.yard.spots)))
        for move in plan:
            if self._sign[move]:
                one[moves.frame[move], moves.spot[move]] += self._sign[move]
        made = np.zeros(len(moves), dtype=np.bool_)
        made[plan] = True
        many = {}
        for statement, price in statements.items():
            excess = int(made[self._concerned(statement)].sum()) - statement.allows
            many[statement] = float(excess if excess > 0 or price > 0 else 0)
        return one, many

    def _broken(self, plan: list[int]) -> Iterator[Statement]:
        """Yield the statements that a relaxed plan breaks, going by the spots where frames are put."""
        moves, spots = self.moves, self.moves.yard.spots
        put: dict[int, tuple[int, int]] = {}
        waiting: list[int] = []
        for turn, move in enumerate(plan):
            frame, spot = int(moves.frame[move]), int(moves.spot[move])
            if moves.kind[move] == Kind.ASIDE:
                beside = sorted(other for other in waiting if put[other][0] == spot)
                if len(beside) >= spots[spot].holds:
                    yield Crowd(tuple(beside[: spots[spot].holds]), frame, spot)
                put[frame] = (spot, turn)
                waiting.append(frame)
            elif moves.kind[move] == Kind.OFF_SPOT:
                waiting.remove(frame)
                if spots[spot].kind == "pile":
                    for other in sorted(waiting):
                        if put[other][0] == spot and put[other][1] > put[frame][1]:
                            yield Pair(frame, other, spot)

    def _concerned(self, statement: Statement) -> Whole:
        """Return the moves that a statement speaks of."""
        if statement not in self._rows:
            self._rows[statement] = np.flatnonzero(self._speaks_of(statement))
        return self._rows[statement]

    def _speaks_of(self, statement: Statement) -> Flags:
        moves = self.moves
        here = moves.spot == statement.spot
        put, taken = here & (moves.kind == Kind.ASIDE), here & (moves.kind == Kind.OFF_SPOT)
        if isinstance(statement, Pair):
            over_put = put & (moves.frame == statement.over) & self._waits(statement.under)
            under_taken = taken & (moves.frame == statement.under) & self._waits(statement.over)
            either: Flags = over_put | under_taken
            return either
        crowded = put & (moves.frame == statement.another)
        crowded[crowded] = self._all_wait(statement.frames, np.flatnonzero(crowded))
        speaks: Flags = crowded | (put & np.isin(moves.frame, statement.frames))
        return speaks

    def _waits(self, frame: int) -> Flags:
        """Tell for each move whether a frame waits on some spot when the move begins."""
        moves = self.moves
        bit = moves.yard.frames.mask([moves.yard.frames.names[frame]])
        by_node = has_any(moves.gone, bit) & ~has_any(moves.standing, bit)
        waits: Flags = by_node[moves.node]
        return waits

    def _all_wait(self, frames: tuple[int, ...], rows: Whole) -> Flags:
        moves = self.moves
        mask = moves.yard.frames.mask(moves.yard.frames.names[frame] for frame in frames)
        node = moves.node[rows]
        return has_all(moves.gone[node], mask) & ~has_any(moves.standing[node], mask)
