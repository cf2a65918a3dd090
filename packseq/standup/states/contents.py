"""What lies on which spot, for many states at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from packseq.standup.states.bits import Flags, Whole, sizes
from packseq.standup.states.kinds import Kind
from packseq.standup.states.moves import Moves

Small = NDArray[np.int8]

ON_PACK, ON_LINE = -1, -2
"""Where a frame is that is on no spot."""


@dataclass(frozen=True)
class Contents:
    """For each state where each frame is that may wait, and how high it lies if that is in a pile.

    `at` holds the number of a spot, `ON_PACK` or `ON_LINE`; `height` counts from 0, and is 0 too for
    what lies in no pile. Both have shape (states, frames that may wait).
    """

    at: Small
    height: Small

    def __len__(self) -> int:
        return len(self.at)

    def only(self, rows: Whole) -> Contents:
        """Return some of the states."""
        return Contents(self.at.take(rows, axis=0), self.height.take(rows, axis=0))

    def lying_on(self, rows: Whole, spot: Whole) -> Whole:
        """Return how many frames lie on a spot in each of some states."""
        count = np.zeros(len(rows), dtype=np.int64)
        # Frame by frame: numpy is slow to gather up so short an axis.
        for column in self.at.T:
            count += column[rows] == spot
        return count

    def words(self) -> NDArray[np.uint64]:
        """Return the contents of each state packed into a few words, equal where the contents are."""
        width = self.at.shape[1]
        packed = np.zeros((len(self), -(-2 * width // 8) * 8), dtype=np.int8)
        packed[:, :width], packed[:, width : 2 * width] = self.at, self.height
        return packed.view(np.uint64)


class Spots:
    """The spots of one job and the frames that may wait on them.

    Parameters
    ----------
    moves
        The moves of the job.
    piled_for
        An order of standing, by name. Where one is given, no frame is put in a pile over one that is stood
        earlier in it: it would be in the way.

    Attributes
    ----------
    waiting
        The frames that may wait, by number.
    column
        The column of each frame in the contents, -1 for one that never waits.
    """

    def __init__(self, moves: Moves, piled_for: Sequence[str] = ()) -> None:
        self.moves = moves
        yard = moves.yard
        waiting = frozenset(yard.job.waiting)
        self.waiting = [number for number, name in enumerate(yard.frames.names) if name in waiting]
        self.column = np.full(len(yard.frames), -1, dtype=np.int64)
        self.column[self.waiting] = np.arange(len(self.waiting))
        self._pile = np.array([spot.kind == "pile" for spot in yard.spots], dtype=np.bool_)
        self._holds = np.array([spot.holds for spot in yard.spots], dtype=np.int64)
        over = np.zeros((len(yard.frames), len(yard.spots)), dtype=np.bool_)
        for frame, spots in enumerate(yard.spots_over):
            over[frame, list(spots)] = True
        self._over_line = over
        self._lying_on = [
            (spot, pack, yard.frames.mask(yard.packs[pack].frames))
            for spot, pack in enumerate(yard.lying_on)
            if pack is not None
        ]
        self._lines_under = bool(over.any())
        # What is never stood comes last.
        self._turn = np.full(len(yard.frames), len(yard.frames), dtype=np.int64)
        self._turn[[yard.frames.number[name] for name in piled_for]] = np.arange(len(piled_for))
        self._suits_an_order = bool(piled_for)

    def empty(self) -> Contents:
        """Return one state, with every frame on its pack."""
        shape = (1, len(self.waiting))
        return Contents(np.full(shape, ON_PACK, dtype=np.int8), np.zeros(shape, dtype=np.int8))

    def after(self, before: Contents, move: Whole) -> tuple[Contents, Flags]:
        """Return the contents after a move in each state, and which of the moves can be made."""
        moves = self.moves
        frame, spot, kind = moves.frame[move], moves.spot[move], moves.kind[move]
        at, height = before.at.copy(), before.height.copy()
        can = self._possible_by_what_lay_there(before, move)

        rows = np.flatnonzero(kind == Kind.ASIDE)
        count = before.lying_on(rows, spot[rows])
        can[rows] &= count < self._holds[spot[rows]]
        if self._suits_an_order:
            can[rows] &= ~self._over_an_earlier(before, rows, frame[rows], spot[rows])
        columns = self.column[frame[rows]]
        at[rows, columns] = spot[rows]
        height[rows, columns] = np.where(self._pile[spot[rows]], count, 0)

        rows = np.flatnonzero(kind == Kind.OFF_SPOT)
        count = before.lying_on(rows, spot[rows])
        columns = self.column[frame[rows]]
        on_top = ~self._pile[spot[rows]] | (before.height[rows, columns] == count - 1)
        can[rows] &= (before.at[rows, columns] == spot[rows]) & on_top
        at[rows, columns], height[rows, columns] = ON_LINE, 0

        rows = np.flatnonzero((kind == Kind.STRAIGHT) & (self.column[frame] >= 0))
        at[rows, self.column[frame[rows]]] = ON_LINE

        if self._lines_under:
            rows = np.flatnonzero((kind != Kind.ASIDE) & self._over_line[frame].any(axis=1))
            for number in range(len(self._holds)):
                under = rows[self._over_line[frame[rows], number]]
                can[under] &= ~(at[under] == number).any(axis=1)
        return Contents(at, height), can

    def _over_an_earlier(self, before: Contents, rows: Whole, frame: Whole, spot: Whole) -> Flags:
        """Tell where a frame would be put in a pile over one whose turn to be stood comes earlier."""
        over = np.zeros(len(rows), dtype=np.bool_)
        for other, column in zip(self.waiting, before.at.T, strict=True):
            over |= (column[rows] == spot) & (self._turn[other] < self._turn[frame])
        return over & self._pile[spot]

    def _possible_by_what_lay_there(self, before: Contents, move: Whole) -> Flags:
        """Tell which moves are possible as far as what lay on spots when the plan began is concerned.

        It takes room until it is gone; in a pile, whatever came since lies on top of it.
        """
        moves = self.moves
        can = np.ones(len(move), dtype=np.bool_)
        for spot, pack, frames in self._lying_on:
            put = np.flatnonzero((moves.kind[move] == Kind.ASIDE) & (moves.spot[move] == spot))
            there = before.lying_on(put, moves.spot[move[put]])
            there += sizes(frames & ~moves.gone[moves.node[move[put]]])
            can[put] = there < self._holds[spot]
            if self._pile[spot]:
                taken = np.flatnonzero((moves.place[move] == pack) & (moves.kind[move] != Kind.OFF_SPOT))
                can[taken] &= ~(before.at[taken] == spot).any(axis=1)
        return can
