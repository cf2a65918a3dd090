"""How far the job is: what stands, what comes next, what waits where, what is amiss."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from rich.console import RenderableType

from packseq.check.state import Heap
from packseq.day.events import said
from packseq.day.follow import Followed
from packseq.day.leftout import LeftOut
from packseq.day.nextmove import NextMove
from packseq.day.present import Present
from packseq.day.progress import ExtraLifts
from packseq.report.daytime import LEFT_OUT, duration, rates_sentence
from packseq.report.following import next_document, next_sentences
from packseq.report.layout import bullets, columns, paragraph, section
from packseq.report.leftout import left_out_document, left_out_sentences
from packseq.report.words import counted, metres, names
from packseq.scenario.model import Lap
from packseq.scenario.rates import TimeRates


@dataclass(frozen=True)
class ByPlan:
    """The site against the plan that is worked by.

    Parameters
    ----------
    followed
        How far the plan is carried out.
    following
        What comes next.
    lifts
        Extra lifts so far and planned.
    left_s
        About how many seconds what is left of the plan takes; None where it cannot go on.
    last_at
        The time of the journal's last line, as it stands there; None where there is none.
    """

    followed: Followed
    following: NextMove | None
    lifts: ExtraLifts
    left_s: float | None
    last_at: str | None

    @property
    def finish_at(self) -> datetime | None:
        """About when the last frame is tacked if the rest goes on from the last line without a pause."""
        if not self.left_s or self.last_at is None:
            return None
        return datetime.fromisoformat(self.last_at) + timedelta(seconds=self.left_s)


@dataclass(frozen=True)
class SiteNow:
    """All that is shown of the site.

    Parameters
    ----------
    now
        The site as it is.
    walked_mm
        How far the team has walked.
    left
        What cannot be stood now.
    more
        How many more frames could be stood with another lap.
    by_plan
        The site against the plan, where one is given.
    """

    now: Present
    walked_mm: int
    left: LeftOut
    more: Mapping[Lap, int]
    by_plan: ByPlan | None


def site_now(site: SiteNow) -> tuple[RenderableType, ...]:
    """Return the site as it is, headline first."""
    now, scenario = site.now, site.now.house.scenario
    head = f"{len(now.state.stood)} of {counted(len(scenario.frames), 'frame')} stand."
    parts = [section(scenario.name, paragraph(head), bullets(_so_far(site)))]
    if now.remarks:
        parts.append(section("What does not fit together (the later line counts)", bullets(now.remarks)))
    if site.by_plan is not None and site.by_plan.followed.unknown:
        unknown = (f"Row {noted.row}: {said(noted.event)}." for noted in site.by_plan.followed.unknown)
        parts.append(section("What the plan does not know of", bullets(unknown)))
    if site.left.absent:
        parts.append(section("What cannot be stood now", bullets(left_out_sentences(site.left, site.more))))
    parts.append(section("What lies where, from the top", *_lying(site)))
    return tuple(parts)


def _so_far(site: SiteNow) -> Iterator[str]:
    now = site.now
    if site.by_plan is not None:
        yield from next_sentences(now, site.by_plan.following)
        lifts = site.by_plan.lifts
        yield (
            f"Extra lifts so far: {lifts.so_far}. By the plan {lifts.planned_by_now} until the next frame "
            f"stands, {lifts.planned} in all."
        )
        yield from _time_left(site.by_plan, now.house.scenario.rates)
    else:
        yield f"Extra lifts so far: {now.extra_lifts}."
    yield f"Walked so far, by the shortest ways: {metres(site.walked_mm)} m."
    yield f"Crew now: {counted(now.people, 'person', 'people')}."
    yield f"Stands, in this order: {names(now.state.stood)}."


def _time_left(by_plan: ByPlan, rates: TimeRates) -> Iterator[str]:
    if by_plan.left_s is None:
        yield "No estimate of the time left: the plan cannot go on as it is."
    elif by_plan.left_s > 0:
        yield f"Time left: about {duration(by_plan.left_s)}. {rates_sentence(rates)} {LEFT_OUT}"
    if by_plan.finish_at is not None and by_plan.last_at is not None:
        noted, finish = datetime.fromisoformat(by_plan.last_at), by_plan.finish_at
        on = "" if finish.date() == noted.date() else f" on {finish:%Y-%m-%d}"
        yield (
            f"Estimated finish: about {finish:%H:%M}{on}, if work goes on without a pause from the journal's "
            f"last line, noted at {noted:%H:%M}."
        )


def _lying(site: SiteNow) -> Iterator[RenderableType]:
    rows = [
        (str(heap), names(_layers(site.now, heap)))
        for heap in site.now.state.heaps
        if site.now.state.heaps[heap]
    ]
    empty = [str(heap) for heap in site.now.state.heaps if not site.now.state.heaps[heap]]
    if rows:
        yield columns(("where", "what"), rows)
    if empty:
        yield paragraph(f"Nothing on: {names(empty)}.")
    if site.now.missing:
        yield paragraph(f"Missing: {names(site.now.missing)}.")


def _layers(now: Present, heap: Heap) -> Iterator[str]:
    for layer in now.state.heaps[heap]:
        marked = (f"{name} (damaged)" if name in now.damaged else name for name in layer.frames)
        yield " + ".join(marked) if heap.kind == "pack" else names(marked)


def site_document(site: SiteNow) -> dict[str, Any]:
    """Return the same as data."""
    now = site.now
    return {
        "stood": now.state.stood,
        "frames": len(now.house.scenario.frames),
        "extra_lifts": now.extra_lifts,
        "walked_mm": site.walked_mm,
        "people": now.people,
        "missing": now.missing,
        "damaged": now.damaged,
        "lies": [
            {
                "where": {"pack" if heap.kind == "pack" else "spot": heap.name},
                "layers": [{"layer": layer.number, "frames": layer.frames} for layer in layers],
            }
            for heap, layers in now.state.heaps.items()
        ],
        "remarks": now.remarks,
        "left_out": left_out_document(site.left, site.more),
        "by_plan": None if site.by_plan is None else _by_plan(site.by_plan),
    }


def _by_plan(by_plan: ByPlan) -> dict[str, Any]:
    lifts = by_plan.lifts
    return {
        "next": next_document(by_plan.following),
        "done": [move.n for move in by_plan.followed.done],
        "unknown": [
            {"row": noted.row, **noted.event.model_dump(mode="json", by_alias=True, exclude_none=True)}
            for noted in by_plan.followed.unknown
        ],
        "extra_lifts": {
            "so_far": lifts.so_far,
            "planned_by_now": lifts.planned_by_now,
            "planned": lifts.planned,
        },
        "time_left_s": None if by_plan.left_s is None else round(by_plan.left_s),
        "finish_at": None if by_plan.finish_at is None else by_plan.finish_at.isoformat(timespec="minutes"),
    }
