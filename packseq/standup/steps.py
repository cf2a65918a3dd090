"""From the solver's values to the moves they stand for."""

from __future__ import annotations

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
    for rank, step in enumerate(steps):
        if step.do == "stand":
            v.model.add_hint(v.up[step.frame], rank)
        elif step.frame in v.job.waiting:
            v.model.add_hint(v.off[step.frame], rank)
            for spot in v.job.spots_for(step.frame):
                v.model.add_hint(v.at[step.frame, spot.name], spot.name == step.to_spot)
