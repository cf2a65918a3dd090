"""From the states of a plan to its lifts: of those that come to the same, the near ones.

Of plans with the same states the team's nearest lift is taken each time, as the crow flies. That keeps
walking down at no cost in lifts; it proves nothing of walking.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from packseq.geometry import Point
from packseq.plan.build import Step
from packseq.standup.tight.moves import (
    Columns,
    carried_out,
    comes_under,
    layers,
    on_top,
    set_asides,
    stood,
    tidied,
)
from packseq.standup.tight.search import States
from packseq.standup.tight.yard import Batch, Yard


@dataclass(frozen=True)
class _Scene:
    """One true state, how the team came there and where it is, None before the first lift."""

    batch: Batch
    team_at: Point | None
    steps: tuple[Step, ...] = ()


def steps_through(yard: Yard, states: States) -> tuple[Step, ...]:
    """Return the lifts that lead through the states of a plan.

    Raises
    ------
    ValueError
        When no lifts lead through them.
    """
    scene = _all_stood(yard, _Scene(yard.start, None), states[0])
    for state in states[1:]:
        if scene is None:
            break
        reached = (_all_stood(yard, lifted, state) for lifted in _set_aside(yard, scene, state))
        scene = next((after for after in reached if after is not None), None)
    if scene is None:
        raise ValueError("the states do not follow one another")
    return scene.steps


def _set_aside(yard: Yard, scene: _Scene, state: Batch) -> Iterator[_Scene]:
    """Yield the scene after each set-aside from which stands alone can lead to a state, the nearest first."""
    lifts = set_asides(yard, scene.batch)
    after = carried_out(yard, scene.batch, lifts, comes_under(yard, scene.batch, lifts))
    once_stood = after.take(np.arange(after.count))
    stands = np.flatnonzero(state.heap[:, 0] == yard.stands)
    once_stood.heap[stands], once_stood.height[stands] = yard.stands, 0
    alike = tidied(yard, once_stood).heap == state.heap
    alike &= once_stood.height == state.height
    found = []
    for column in np.flatnonzero(alike.all(axis=0)):
        frame, heap = int(lifts.frame[column]), int(lifts.heap[column])
        walk = _walk_mm(yard, scene, frame, yard.job.stop(yard.heaps[heap]).point)
        found.append((walk, frame, heap, column))
    for _, frame, heap, column in sorted(found):
        target = yard.heaps[heap]
        step = Step(
            "set aside",
            yard.frames[frame],
            to_pack=target.name if target.kind == "pack" else None,
            to_spot=None if target.kind == "pack" else target.name,
        )
        there = yard.job.stop(target).point
        yield _Scene(after.take(np.array([column])), there, (*scene.steps, step))


def _all_stood(yard: Yard, scene: _Scene, state: Batch) -> _Scene | None:
    """Return the scene once all that stands in a state stands, None where they cannot be stood from here."""
    missing = (state.heap == yard.stands) & (scene.batch.heap != yard.stands)
    if not missing.any():
        return scene
    can = missing & on_top(yard, scene.batch, layers(yard, scene.batch))
    can &= yard.order.allowed(scene.batch.standing)
    frames = yard.job.house.scenario.frames

    def walk(frame: int) -> tuple[float, int]:
        return (_walk_mm(yard, scene, frame, frames[yard.frames[frame]].middle), frame)

    for frame in sorted(map(int, np.flatnonzero(can[:, 0])), key=walk):
        if yard.further and not yard.permits(scene.batch, 0, frame, yard.stands):
            continue
        after = stood(yard, scene.batch, _only(0), _only(frame))
        name = yard.frames[frame]
        following = _Scene(after, frames[name].middle, (*scene.steps, Step("stand", name)))
        done = _all_stood(yard, following, state)
        if done is not None:
            return done
    return None


def _only(number: int) -> Columns:
    return np.array([number])


def _walk_mm(yard: Yard, scene: _Scene, frame: int, drop: Point) -> float:
    """Return the straight way to where a frame lies and on to where it goes."""
    pick_up = yard.job.stop(yard.heaps[scene.batch.heap[frame, 0]]).point
    return math.dist(scene.team_at or pick_up, pick_up) + math.dist(pick_up, drop)
