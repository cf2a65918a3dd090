"""From the site as it is to where a plan begins."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from packseq.day.journal import Noted
from packseq.day.present import Present
from packseq.plan.begin import Begin, LayerNow


def begin_from(now: Present, left_out: Collection[str], lines: Sequence[Noted]) -> Begin:
    """Return where a plan begins that goes on from here.

    Parameters
    ----------
    now
        The site as it is.
    left_out
        Frames that the plan shall not stand.
    lines
        The sound lines of the journal.
    """
    scenario = now.house.scenario
    heaps = now.state.heaps
    return Begin(
        stood=now.state.stood,
        packs={
            heap.name: tuple(LayerNow(layer=layer.number, frames=layer.frames) for layer in layers)
            for heap, layers in heaps.items()
            if heap.kind == "pack"
        },
        spots={
            heap.name: now.state.lying(heap) if heap.kind == "lean" else now.state.lying(heap)[::-1]
            for heap in heaps
            if heap.kind != "pack"
        },
        left_out=tuple(left_out),
        landed={
            name: (*place.at, place.bearing_deg)
            for name, place in now.places.items()
            if scenario.packs[name].places != (place,)
        },
        people=None if now.people == scenario.crew.people else now.people,
        lines=len(lines),
        last_at=lines[-1].event.at if lines else None,
    )
