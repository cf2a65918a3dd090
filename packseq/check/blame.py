"""Which frames were set aside, what beneath them was wanted first, and what another layer would save."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from packseq.check.replay import Replay
from packseq.check.state import State
from packseq.plan.model import Move

Layers = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Blame:
    """One extra lift, and why it had to be.

    Parameters
    ----------
    move_number
        The set-aside, by its number in the plan.
    frame
        The frame that was set aside.
    pack
        The pack that it was delivered in.
    lay_on
        Where it lay just before: ``pack A``, or a spot where it was in the way once more.
    wanted_first
        The frames beneath it, from the top down, that are stood before it.
    below
        The lowest of these as the pack was delivered: with the frame in a layer of its own just
        beneath that one, nothing under it would be wanted first. None where the pack is not to
        blame: the frame was in the way on a spot, or nothing beneath it was wanted first.
    saves
        Extra lifts that this one change of the pack would save in the same stand order, any that
        it would cause counted against it. None where `below` is.
    """

    move_number: int
    frame: str
    pack: str
    lay_on: str
    wanted_first: tuple[str, ...]
    below: str | None
    saves: int | None


def blamed(done: Replay) -> tuple[Blame, ...]:
    """Return every extra lift of a plan that keeps the rules, by pack in the order of site.toml.

    Within a pack they come in the order of the plan.
    """
    place = {
        move.frame: number
        for number, move in enumerate(move for move in done.plan.moves if move.do == "stand")
    }
    before = (done.job.delivered, *done.states())
    found = [
        _blame(done, move, state, place)
        for move, state in zip(done.plan.moves, before, strict=False)
        if move.do == "set aside"
    ]
    packs = list(done.job.house.scenario.packs)
    return tuple(sorted(found, key=lambda blame: packs.index(blame.pack)))


def forced_aside(layers: Layers, place: Mapping[str, int]) -> frozenset[str]:
    """Return the frames of a pack that a stand order forces aside, each at least once.

    A frame must be set aside when one in a layer beneath its own is stood before it.

    Parameters
    ----------
    layers
        The pack, top first.
    place
        The place of each frame in the stand order.
    """
    forced: set[str] = set()
    earliest = len(place)
    for layer in reversed(layers):
        forced.update(name for name in layer if place[name] > earliest)
        earliest = min([earliest, *(place[name] for name in layer)])
    return frozenset(forced)


def _blame(done: Replay, move: Move, state: State, place: Mapping[str, int]) -> Blame:
    scenario = done.job.house.scenario
    frame = move.frame
    heap = state.lies[frame]
    pack = scenario.packs[scenario.pack_of[frame]]
    wanted = tuple(name for name in _beneath(state, frame) if place[name] < place[frame])
    as_delivered = state.layer_number(frame) is not None
    if not wanted or not as_delivered:
        return Blame(move.n, frame, pack.name, str(heap), wanted, None, None)
    below = max(wanted, key=lambda name: scenario.layer_of[name])
    moved = _moved_below(pack.layers, frame, below)
    saves = len(forced_aside(pack.layers, place)) - len(forced_aside(moved, place))
    return Blame(move.n, frame, pack.name, str(heap), wanted, below, saves)


def _beneath(state: State, frame: str) -> tuple[str, ...]:
    """Return the frames in the layers beneath a lying frame's own, top first."""
    heap = state.lies[frame]
    above = {*state.above(frame), frame}
    if heap.kind == "lean":
        return ()
    layers = state.heaps[heap]
    own = next(layer for layer in layers if frame in layer.frames)
    return tuple(name for name in state.lying(heap) if name not in above and name not in own.frames)


def _moved_below(layers: Sequence[tuple[str, ...]], frame: str, below: str) -> Layers:
    """Return a pack with a frame moved to a layer of its own just beneath that of another."""
    moved: list[tuple[str, ...]] = []
    for layer in layers:
        left = tuple(name for name in layer if name != frame)
        if left:
            moved.append(left)
        if below in layer:
            moved.append((frame,))
    return tuple(moved)
