"""What is shown after something was noted."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rich.console import RenderableType

from packseq.day.events import Event, said
from packseq.day.nextmove import NextMove
from packseq.day.present import Present
from packseq.report.following import next_document, next_sentences
from packseq.report.layout import listing


def recorded_event(
    now: Present, event: Event, remarks: Sequence[str], following: NextMove | None, *, by_plan: bool
) -> tuple[RenderableType, ...]:
    """Return what was noted, what in it does not fit, how far the job is, and what comes next.

    Parameters
    ----------
    now
        The site after it.
    event
        What was noted.
    remarks
        What does not fit with earlier lines.
    following
        The next move of the plan.
    by_plan
        Whether there is a plan to follow at all.
    """
    stood, frames = len(now.state.stood), len(now.house.scenario.frames)
    lines = [f"Noted: {said(event)}.", *remarks, f"{stood} of {frames} frames stand."]
    if by_plan:
        lines.extend(next_sentences(now, following))
    return (listing(lines),)


def recorded_document(
    now: Present, event: Event, remarks: Sequence[str], following: NextMove | None
) -> dict[str, Any]:
    """Return the same as data."""
    return {
        "noted": event.model_dump(mode="json", by_alias=True, exclude_none=True),
        "remarks": list(remarks),
        "stood": len(now.state.stood),
        "frames": len(now.house.scenario.frames),
        "next": next_document(following),
    }
