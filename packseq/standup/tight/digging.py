"""How many extra lifts a crew needs that digs for the nearest frame and puts each blocker down with care."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from packseq.standup.tight.moves import SetAsides, carried_out, layers, settle
from packseq.standup.tight.yard import Batch, Codes, Yard

STUCK = 1 << 20


def digging_lifts(yard: Yard, batch: Batch, at_most: int) -> npt.NDArray[np.intp]:
    """Return the extra lifts that digging takes from each state, `STUCK` where more than `at_most`.

    The crew stands whatever can be stood, and lifts by `dug`.
    """
    lifts = np.full(batch.count, STUCK)
    active = np.arange(batch.count)
    batch = settled(yard, batch)
    for made in range(at_most + 1):
        done = (batch.heap == yard.stands).all(axis=0)
        lifts[active[done]] = made
        going = np.flatnonzero(~done)
        if not going.size or made == at_most:
            break
        active, batch = active[going], batch.take(going)
        moves, under = dug(yard, batch)
        active = active[moves.column]
        batch = settled(yard, carried_out(yard, batch, moves, under))
    return lifts


def settled(yard: Yard, batch: Batch) -> Batch:
    """Return the states once the digging crew has stood whatever can be stood."""
    return settle(yard, batch, np.ones(len(yard.frames), bool))


def dug(yard: Yard, batch: Batch) -> tuple[SetAsides, Codes]:
    """Return for each state the next lift of a digging crew, none where there is no room.

    The crew digs for the frame that may be stood and has fewest layers above it. What lies on top goes
    where it is in nobody's way, on the heap whose next frame comes soonest; if there is none, where it is
    in the way latest.
    """
    counts = layers(yard, batch)
    each = np.arange(batch.count)
    top = np.zeros_like(batch.height)
    for heap, lean in enumerate(yard.lean):
        here = batch.heap == heap
        np.copyto(top, counts[heap] if not lean else np.ones_like(counts[heap]), where=here)
    wanted = yard.order.allowed(batch.standing)
    depth = np.where(wanted, top - batch.height, np.iinfo(top.dtype).max)
    source = batch.heap[depth.argmin(axis=0), each]
    frame = ((batch.heap == source) & (batch.height == top)).argmax(axis=0)
    first_wanted = yard.before[:, frame]
    count = len(yard.frames)
    worth = np.full((len(yard.heaps), batch.count), -1)
    unders = np.full((len(yard.heaps), batch.count), yard.nothing, batch.under.dtype)
    for heap, lean in enumerate(yard.lean):
        here = batch.heap == heap
        can = yard.takes[heap][frame] & (source != heap) & (counts[heap] < yard.room[heap])
        if lean:
            value = np.full(batch.count, count + 1)
        else:
            soonest = np.where(counts[heap] > 0, here.argmax(axis=0), count)
            hit = here & first_wanted
            bad = hit.any(axis=0)
            unders[heap] = np.where(bad, hit.argmax(axis=0), yard.nothing)
            value = np.where(bad, soonest, 2 * count + 1 - soonest)
        worth[heap] = np.where(can, value, -1)
        if yard.further:
            for column in np.flatnonzero(can):
                if not yard.permits(batch, int(column), int(frame[column]), heap):
                    worth[heap, column] = -1
    best = worth.argmax(axis=0)
    kept = np.flatnonzero(worth[best, each] >= 0)
    return SetAsides(kept, frame[kept], best[kept]), unders[best, each][kept]
