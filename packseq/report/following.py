"""What comes next by a plan, in words and as data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from packseq.day.nextmove import NextMove
from packseq.day.present import Present
from packseq.report.words import counted, on_wall, put_on, taken_from


def next_sentences(now: Present, following: NextMove | None) -> Iterator[str]:
    """Say what comes next, and whether it can be done as planned."""
    if following is None:
        done = len(now.state.stood) == len(now.house.scenario.frames)
        yield (
            "Every frame stands."
            if done
            else "Nothing of the plan is left to do. Make it again: packseq replan."
        )
        return
    move = following.move
    people = counted(move.people, "person", "people")
    if move.do == "stand":
        yield f"Next: stand {move.frame} {on_wall(now.house, move.frame)}, from {taken_from(move)}, {people}."
    else:
        yield f"Next: set aside {move.frame} on {put_on(move)}, from {taken_from(move)}, {people}."
    if following.hindrance is not None:
        yield f"It does not go as planned: {following.hindrance}. Make the plan again: packseq replan."


def next_document(following: NextMove | None) -> dict[str, Any] | None:
    """Return what comes next as data, None where there is nothing."""
    if following is None:
        return None
    move = following.move.model_dump(mode="json", by_alias=True, exclude_none=True)
    return {"move": move, "hindrance": following.hindrance}
