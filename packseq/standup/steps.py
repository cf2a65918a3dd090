"""From the solver's values to the moves they stand for."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from packseq.plan.build import Step
from packseq.standup.solver import Answer
from packseq.standup.variables import Variables


def steps_of(v: Variables, answer: Answer) -> tuple[Step, ...]:
    """Return the moves in order.

    Moves with equal rank do not depend on one another, but that a frame leaves a full spot
    before the next one comes: stands go first.
    """
    ranked: list[tuple[int, int, int, Step]] = []
    for number, frame in enumerate(v.job.frames):
        ranked.append((answer[v.up[frame]], 0, number, Step("stand", frame)))
        if answer.true(v.aside[frame]):
            spot = next(spot.name for spot in v.job.spots_for(frame) if answer.true(v.at[frame, spot.name]))
            ranked.append((answer[v.off[frame]], 1, number, Step("set aside", frame, to_spot=spot)))
    return tuple(step for *_, step in sorted(ranked, key=lambda entry: entry[:3]))


def hint_steps(v: Variables, steps: tuple[Step, ...]) -> None:
    """Hint a known plan: when each frame is moved and where it waits."""
    rank = {(step.do, step.frame): number for number, step in enumerate(steps)}
    spot = {step.frame: step.to_spot for step in steps if step.do == "set aside"}
    for frame in v.job.frames:
        up = rank["stand", frame]
        v.model.add_hint(v.up[frame], up)
        if frame not in v.job.waiting:
            continue
        v.model.add_hint(v.off[frame], rank.get(("set aside", frame), up))
        if frame not in v.job.surely_waiting:
            v.model.add_hint(v.aside[frame], frame in spot)
        for choice in v.job.spots_for(frame):
            v.model.add_hint(v.at[frame, choice.name], spot.get(frame) == choice.name)


def hint_order(v: Variables, stands: Sequence[str], aside: Collection[str]) -> None:
    """Hint an order of standing and who waits in it, in place of what was hinted before."""
    v.model.clear_hints()  # type: ignore[no-untyped-call]
    for place, frame in enumerate(stands):
        v.model.add_hint(v.up[frame], place)
    for frame in v.job.waiting:
        if frame not in v.job.surely_waiting:
            v.model.add_hint(v.aside[frame], frame in aside)
