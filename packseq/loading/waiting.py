"""Where the frames that are set aside wait: a spot for each, by trying them in turn."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from packseq.scenario.model import Frame, Spot


@dataclass(frozen=True, slots=True)
class Wait:
    """A frame that waits from the moment it is lifted off its pack until it is stood."""

    frame: Frame
    from_stand: int
    to_stand: int


def spots_for(
    waits: Sequence[Wait],
    spots: Mapping[str, Spot],
    may_wait: Callable[[Wait, Spot], bool],
    *,
    most_tries: int = 20_000,
) -> dict[str, str] | None:
    """Return the spot of each frame that waits; None where none has room, or too much was tried.

    Parameters
    ----------
    waits
        Frames in the order in which they are set aside.
    spots
        The spots there are.
    may_wait
        Whether the ground and the ways let a frame wait on a spot, room apart.
    most_tries
        Frames put down and taken up again before giving up.
    """
    chosen: list[str] = []
    tries = 0
    options = [
        [name for name in sorted(spots) if spots[name].takes(wait.frame) and may_wait(wait, spots[name])]
        for wait in waits
    ]
    ahead = [iter(options[0])] if waits else []
    while len(chosen) < len(waits):
        tries += 1
        if not ahead or tries > most_tries:
            return None
        name = next(ahead[-1], None)
        if name is None:
            ahead.pop()
            if chosen:
                chosen.pop()
        elif _has_room(waits, chosen, spots[name]):
            chosen.append(name)
            if len(chosen) < len(waits):
                ahead.append(iter(options[len(chosen)]))
    return {wait.frame.name: name for wait, name in zip(waits, chosen, strict=True)}


def _has_room(waits: Sequence[Wait], chosen: Sequence[str], spot: Spot) -> bool:
    """Tell whether a spot takes the next frame beside, or on top of, those that still wait there."""
    coming = waits[len(chosen)]
    there = [
        wait
        for wait, name in zip(waits, chosen, strict=False)
        if name == spot.name and wait.to_stand > coming.from_stand
    ]
    if len(there) >= spot.holds:
        return False
    return spot.kind == "lean" or all(wait.to_stand > coming.to_stand for wait in there)
