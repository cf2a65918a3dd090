"""Which frames were set aside, what beneath them was wanted first, and where they had better lain."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from packseq.check.replay import Replay
from packseq.check.state import State
from packseq.plan.model import Move


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
        The frames beneath it there, from the top down, that are stood before it.
    below
        The lowest of these. Loaded in a layer of its own just beneath that one, the frame would lie on
        nothing that is wanted first; and it would force no other frame aside in the same stand order,
        because whatever then lies above it and is stood later is forced aside by that one already.
        None where the pack as delivered is not to blame: the frame was in the way on a spot or where it
        had been put on another pack, or nothing beneath it was wanted first.
    saves
        Extra lifts that this would save: every set-aside of the frame. None where `below` is.
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
    stood = [move.frame for move in done.plan.moves if move.do == "stand"]
    place = {frame: number for number, frame in enumerate(stood)}
    times = Counter(move.frame for move in done.plan.moves if move.do == "set aside")
    before = (done.job.beginning, *done.states())
    found = [
        _blame(done, move, state, place, times[move.frame])
        for move, state in zip(done.plan.moves, before, strict=False)
        if move.do == "set aside"
    ]
    packs = list(done.job.house.scenario.packs)
    return tuple(sorted(found, key=lambda blame: packs.index(blame.pack)))


def _blame(done: Replay, move: Move, state: State, place: Mapping[str, int], times: int) -> Blame:
    frame = move.frame
    beneath = _beneath(state, frame)
    wanted = tuple(name for layer in beneath for name in layer if place[name] < place[frame])
    as_delivered = state.layer_number(frame) is not None
    below = wanted[-1] if wanted and as_delivered else None
    return Blame(
        move_number=move.n,
        frame=frame,
        pack=done.job.house.scenario.pack_of[frame],
        lay_on=str(state.lies[frame]),
        wanted_first=wanted,
        below=below,
        saves=None if below is None else times,
    )


def _beneath(state: State, frame: str) -> tuple[tuple[str, ...], ...]:
    """Return the layers beneath a lying frame's own, top first; a lean is one layer."""
    layers = [layer.frames for layer in state.heaps[state.lies[frame]]]
    own = next(depth for depth, names in enumerate(layers) if frame in names)
    return tuple(layers[own + 1 :])
