"""One level as the search sees it: frames and heaps by number, what a heap takes, what comes before what."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from packseq.check.job import Job, Lift
from packseq.check.rules import Rule, broken_rules
from packseq.check.rules.lifting import spot_room
from packseq.check.state import Heap, Layer, State
from packseq.scenario.model import Frame
from packseq.standup.tight.order import Flags, Sets, StandOrder

Codes = npt.NDArray[np.unsignedinteger[Any]]


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Many states side by side: a row for each frame, a column for each state.

    Parameters
    ----------
    heap
        Number of the heap that a frame lies in; the number of heaps once it stands.
    height
        Layer that it lies in, 1 at the bottom; on a lean 1, standing 0.
    under
        A frame in a layer beneath it that is surely stood before it, the first of them in the
        yard's order; the number of frames when there is none. A frame that has one is in the way.
    standing
        Number of the set of frames that stand (one for each state).
    """

    heap: Codes
    height: Codes
    under: Codes
    standing: Sets

    @property
    def count(self) -> int:
        """Number of states."""
        return len(self.standing)

    def take(self, columns: npt.NDArray[np.intp]) -> Batch:
        """Return the states of some columns."""
        return Batch(
            np.take(self.heap, columns, axis=1),
            np.take(self.height, columns, axis=1),
            np.take(self.under, columns, axis=1),
            self.standing[columns],
        )


def joined_up(batches: Sequence[Batch]) -> Batch:
    """Return all states of some batches, at least one, in order."""
    if len(batches) == 1:
        return batches[0]
    return Batch(
        np.concatenate([batch.heap for batch in batches], axis=1),
        np.concatenate([batch.height for batch in batches], axis=1),
        np.concatenate([batch.under for batch in batches], axis=1),
        np.concatenate([batch.standing for batch in batches]),
    )


@dataclass(frozen=True, eq=False)
class Yard:
    """One level of a job, in numbers.

    Parameters
    ----------
    job
        The job that the level is of.
    frames, heaps
        What the numbers stand for. Frames are numbered in an order in which they could be stood.
    order
        What may be stood next.
    before
        Whether the frame of the row is stood before that of the column in every plan.
    takes
        Whether a heap (row) ever takes a frame (column).
    room
        The most layers of each pack and pile, the most frames of each lean.
    lean
        Whether each heap is a lean.
    alike
        Groups of heaps that differ in nothing but where they are: swapping what lies in two of
        them changes no count of lifts.
    start
        The state before the first lift.
    ready
        The frames that are stood as soon as they can be; whether and when any other is stood is tried
        both ways.
    further
        Rules that lifts must keep besides those on order, packs, spots and crew.
    """

    job: Job
    frames: tuple[str, ...]
    heaps: tuple[Heap, ...]
    order: StandOrder
    before: Flags
    takes: Flags
    room: npt.NDArray[np.int64]
    lean: Flags
    alike: tuple[tuple[int, ...], ...]
    start: Batch
    ready: Flags
    further: Mapping[str, Rule]

    @property
    def stands(self) -> int:
        """The heap number of a frame that stands."""
        return len(self.heaps)

    @property
    def nothing(self) -> int:
        """The frame number that stands for no frame."""
        return len(self.frames)

    def permits(self, batch: Batch, column: int, frame: int, heap: int) -> bool:
        """Tell whether the further rules let a frame go to a heap, or be stood where `heap` is `stands`."""
        state = self._state(batch, column)
        value = self.job.house.scenario.frames[self.frames[frame]]
        source = self.heaps[batch.heap[frame, column]]
        target = None if heap == self.stands else self.heaps[heap]
        people = self.job.house.scenario.crew.team(value.mass_kg)
        lift = Lift(self.job, state, value, source, target, people, None)
        return next(broken_rules(lift, self.further), None) is None

    def _state(self, batch: Batch, column: int) -> State:
        """Return a state as the check knows it; heaps of other levels are empty."""
        heaps: dict[Heap, tuple[Layer, ...]] = dict.fromkeys(self.job.beginning.heaps, ())
        lies: dict[str, Heap] = {}
        for number, heap in enumerate(self.heaps):
            here = np.flatnonzero(batch.heap[:, column] == number)
            lies |= {self.frames[frame]: heap for frame in here}
            heights = sorted({int(height) for height in batch.height[here, column]}, reverse=True)
            layers = [
                [frame for frame in here if batch.height[frame, column] == height] for height in heights
            ]
            heaps[heap] = tuple(Layer(None, tuple(self.frames[frame] for frame in layer)) for layer in layers)
        stand = [
            name for name, at in zip(self.frames, batch.heap[:, column], strict=True) if at == self.stands
        ]
        level = self.job.house.scenario.frames[self.frames[0]].level
        stood = (*self.job.below[level], *stand)
        return State(heaps, lies, stood, frozenset(stood))


def yard_of(
    job: Job,
    level: int,
    *,
    blocks: Callable[[str], bool] | None = None,
    further: Mapping[str, Rule] | None = None,
) -> Yard | None:
    """Return one level of a job in numbers; None when the order rules keep a frame from ever being stood.

    Parameters
    ----------
    blocks
        Tells of a frame whether its standing can keep a rule of `further` from being kept later on;
        none does unless given.
    further
        Rules that lifts must keep besides those on order, packs, spots and crew.
    """
    scenario = job.house.scenario
    names = [name for name, frame in scenario.frames.items() if frame.level == level]
    order = StandOrder(job, names)
    before = order.before()
    if before is None:
        return None
    # Numbered so that the first of several frames is one that no other of them need come before.
    ranked = sorted(range(len(names)), key=lambda frame: int(before[:, frame].sum()))
    names = [names[frame] for frame in ranked]
    first = before[np.ix_(ranked, ranked)]
    heaps = [heap for heap in job.beginning.heaps if _level(job, heap) == level]
    takes = np.array([[_takes(job, heap, scenario.frames[name]) for name in names] for heap in heaps], bool)
    lean = np.array([heap.kind == "lean" for heap in heaps], bool)
    room = np.array([_room(job, heap) for heap in heaps], np.int64)
    return Yard(
        job=job,
        frames=tuple(names),
        heaps=tuple(heaps),
        order=StandOrder(job, names),
        before=first,
        takes=takes,
        room=room,
        lean=lean,
        # A further rule may look at where a heap is.
        alike=() if further else _alike(takes, lean, room),
        start=_start(job, names, heaps, first),
        ready=np.array([blocks is None or not blocks(name) for name in names], bool),
        further=further or {},
    )


def _level(job: Job, heap: Heap) -> int:
    packs = job.house.scenario.packs
    return packs[heap.name].level if heap.kind == "pack" else job.spots[heap.name].level


def _room(job: Job, heap: Heap) -> int:
    """Return the most layers, or frames on a lean: a pack takes one on top while it has `holds` layers."""
    if heap.kind == "pack":
        return job.house.scenario.packs[heap.name].holds + 1
    return job.spots[heap.name].holds


def _takes(job: Job, heap: Heap, frame: Frame) -> bool:
    """Ask the check whether a heap would take a frame if nothing lay there and all walls stood."""
    every = frozenset(job.house.scenario.frames)
    empty = State(dict.fromkeys(job.beginning.heaps, ()), {}, standing=every)
    elsewhere = Heap("lean", "")
    lift = Lift(job, empty, frame, elsewhere, heap, job.house.scenario.crew.team(frame.mass_kg), None)
    return next(spot_room(lift), None) is None


def _alike(takes: Flags, lean: Flags, room: npt.NDArray[np.int64]) -> tuple[tuple[int, ...], ...]:
    groups: dict[tuple[bytes, bool, int], list[int]] = {}
    for heap in range(len(room)):
        key = (takes[heap].tobytes(), bool(lean[heap]), int(room[heap]))
        groups.setdefault(key, []).append(heap)
    return tuple(tuple(group) for group in groups.values() if len(group) > 1)


def _start(job: Job, names: Sequence[str], heaps: Sequence[Heap], before: Flags) -> Batch:
    number = {name: frame for frame, name in enumerate(names)}
    # No heap has more layers than there are frames.
    kind = np.min_scalar_type(max(len(names), len(heaps)))
    heap = np.zeros((len(names), 1), kind)
    height = np.zeros((len(names), 1), kind)
    under = np.full((len(names), 1), len(names), kind)
    for place, each in enumerate(heaps):
        layers = job.beginning.heaps[each]
        beneath: list[int] = []
        for level, layer in enumerate(reversed(layers), 1):
            here = [number[name] for name in layer.frames]
            for frame in here:
                heap[frame], height[frame] = place, level
                under[frame] = min((low for low in beneath if before[low, frame]), default=len(names))
            beneath += here
    return Batch(heap, height, under, np.zeros(1, np.int32))
