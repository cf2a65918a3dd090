"""The same job without a plan, for comparison."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.check import Replay, replay

_WAYS: tuple[tuple[str, Callable[..., Unplanned]], ...] = (
    ("works down the frame list", by_frame_list),
    ("takes whatever lies nearest", by_nearest),
)


@dataclass(frozen=True)
class Alternative:
    """One way of working unplanned: what it came to, or why it came to nothing.

    Parameters
    ----------
    how
        What the crew does: "takes whatever lies nearest".
    done
        The replay of its order; None where the crew gets stuck.
    stuck
        Why the crew gets stuck; None where it does not.
    """

    how: str
    done: Replay | None
    stuck: str | None


def unplanned_alternatives(planned: Replay) -> tuple[Alternative, ...]:
    """Return what a crew does unplanned, with the spots and the pack places that a plan has.

    Each is replayed by the same check as the plan; one that breaks a rule counts as stuck.
    """
    return tuple(_alternative(planned, how, way) for how, way in _WAYS)


def _alternative(planned: Replay, how: str, way: Callable[..., Unplanned]) -> Alternative:
    job = planned.job
    outcome = way(job.house, spots=job.spots, places=job.places, routes=job.routes, begin=job.begin)
    if outcome.plan is None:
        return Alternative(how, None, outcome.reason)
    done = replay(job.house, outcome.plan, job.routes)
    if not done.kept:
        return Alternative(how, None, f"it breaks a rule: {done.violations[0]}")
    return Alternative(how, done, None)
