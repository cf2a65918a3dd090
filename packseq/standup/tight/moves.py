"""What can be lifted, where it can go, and the states that follow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from packseq.standup.tight.order import Flags
from packseq.standup.tight.yard import Batch, Codes, Yard

Columns = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class SetAsides:
    """Set-asides that can be carried out: of which state (column), which frame, on to which heap."""

    column: Columns
    frame: Columns
    heap: Columns

    def take(self, chosen: Columns) -> SetAsides:
        """Return some of them."""
        return SetAsides(self.column[chosen], self.frame[chosen], self.heap[chosen])


def layers(yard: Yard, batch: Batch) -> Codes:
    """Return how many layers each heap (row) has in each state; of a lean, how many frames."""
    counts = np.zeros((len(yard.heaps), batch.count), batch.heap.dtype)
    for heap, lean in enumerate(yard.lean):
        here = batch.heap == heap
        if lean:
            here.sum(axis=0, dtype=counts.dtype, out=counts[heap])
        else:
            np.multiply(batch.height, here, dtype=counts.dtype).max(axis=0, out=counts[heap])
    return counts


def on_top(yard: Yard, batch: Batch, counts: Codes) -> Flags:
    """Tell which frames (rows) have nothing above them."""
    top = np.zeros(batch.heap.shape, bool)
    for heap, lean in enumerate(yard.lean):
        here = batch.heap == heap
        top |= here if lean else here & (batch.height == counts[heap])
    return top


def settle(yard: Yard, batch: Batch, frames: Flags) -> Batch:
    """Stand those of some frames that are on top and may be stood, until none of them is left.

    With the yard's `ready` frames no plan is lost. Take any plan from here, and a frame F that is on
    top and may be stood now. Stand F first and leave out all later moves of F: every other move can
    still be made. What F lay on or leant by is only freed, what would have been put on F is put where
    F was, heaps have no more in them than before, the order rules never take back what they allow
    (see `StandOrder`), and a further rule could only be broken by a frame that is not `ready`. So
    the new plan stands the house with no more extra lifts.
    """
    heap, height, under = batch.heap.copy(), batch.height.copy(), batch.under.copy()
    standing = batch.standing.copy()
    active = np.arange(batch.count)
    while active.size:
        part = Batch(heap[:, active], height[:, active], under[:, active], standing[active])
        ready = on_top(yard, part, layers(yard, part)) & yard.order.allowed(part.standing) & frames[:, None]
        _keep_permitted(yard, part, ready, yard.stands)
        some = np.flatnonzero(ready.any(axis=0))
        active = active[some]
        frame = ready[:, some].argmax(axis=0)
        _stand(yard, Batch(heap, height, under, standing), active, frame)
    return Batch(heap, height, under, standing)


def stood(yard: Yard, batch: Batch, columns: Columns, frames: Columns) -> Batch:
    """Return some of the states with one frame stood in each."""
    after = batch.take(columns)
    _stand(yard, after, np.arange(len(columns)), frames)
    return after


def _stand(yard: Yard, batch: Batch, columns: Columns, frames: Columns) -> None:
    """Stand a frame in each of some columns of a batch that is still being made."""
    batch.heap[frames, columns] = yard.stands
    batch.height[frames, columns] = 0
    batch.under[frames, columns] = yard.nothing
    batch.standing[columns] = yard.order.after(batch.standing[columns], frames)


def _keep_permitted(yard: Yard, batch: Batch, lifts: Flags, heap: int) -> None:
    """Take out of a table of lifts that is still being made those that a further rule forbids."""
    if yard.further:
        for frame, column in np.argwhere(lifts):
            lifts[frame, column] = yard.permits(batch, int(column), int(frame), heap)


def undecided(yard: Yard, batch: Batch) -> tuple[Columns, Columns]:
    """Return frame and column of each stand that can be made but is not surely for the best."""
    can = on_top(yard, batch, layers(yard, batch)) & yard.order.allowed(batch.standing)
    can &= ~yard.ready[:, None]
    _keep_permitted(yard, batch, can, yard.stands)
    frame, column = np.nonzero(can)
    return frame, column


def set_asides(yard: Yard, batch: Batch) -> SetAsides:
    """Return every frame on top with every other heap that has room for it.

    Putting a frame back on the heap that it was on is left out: it only raises what was in its layer or
    leant beside it.
    """
    counts = layers(yard, batch)
    top = on_top(yard, batch, counts)
    columns, frames, heaps = [], [], []
    for heap in range(len(yard.heaps)):
        free = counts[heap] < yard.room[heap]
        can = top & (batch.heap != heap) & yard.takes[heap][:, None] & free
        _keep_permitted(yard, batch, can, heap)
        frame, column = np.nonzero(can)
        columns.append(column)
        frames.append(frame)
        heaps.append(np.full(len(column), heap))
    return SetAsides(np.concatenate(columns), np.concatenate(frames), np.concatenate(heaps))


def comes_under(yard: Yard, batch: Batch, lifts: SetAsides) -> Codes:
    """Return what each frame set aside would lie on that is surely stood before it; see `Batch.under`."""
    found = np.full(len(lifts.column), yard.nothing, batch.under.dtype)
    target = lifts.heap.astype(batch.heap.dtype)

    for frame in range(len(yard.frames) - 1, -1, -1):
        hit = batch.heap[frame][lifts.column] == target
        hit &= yard.before[frame][lifts.frame]
        found[hit] = frame
    found[yard.lean[lifts.heap]] = yard.nothing
    return found


def carried_out(yard: Yard, batch: Batch, lifts: SetAsides, under: Codes) -> Batch:
    """Return the states right after the set-asides, one for each; `under` is that of `comes_under`."""
    after = batch.take(lifts.column)
    each = np.arange(len(lifts.column))
    # On top of what lies there; frames that stand have height 0.
    heights = np.where(after.heap == lifts.heap.astype(after.heap.dtype), after.height, 0).max(axis=0) + 1
    heights[yard.lean[lifts.heap]] = 1
    after.heap[lifts.frame, each] = lifts.heap
    after.height[lifts.frame, each] = heights
    after.under[lifts.frame, each] = under
    return after


def tidied(yard: Yard, batch: Batch) -> Batch:
    """Return the states with heaps that are alike swapped so that equal states look equal.

    Of the heaps of a group the one that holds the frame with the lowest number comes first, and so on.
    """
    if not yard.alike:
        return batch
    heap = batch.heap.copy()
    for group in yard.alike:
        lies = [batch.heap == each for each in group]
        first = [np.where(here.any(axis=0), here.argmax(axis=0), yard.nothing) for here in lies]
        for place, here in enumerate(lies):
            rank = np.zeros(batch.count, np.intp)
            for other in range(len(group)):
                rank += first[other] < first[place]
                if other < place:
                    rank += first[other] == first[place]
            heap[here] = np.broadcast_to(np.array(group)[rank].astype(heap.dtype), here.shape)[here]
    return Batch(heap, batch.height, batch.under, batch.standing)
