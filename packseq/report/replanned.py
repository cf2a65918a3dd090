"""A plan made in the middle of the job: why, what it leaves out, what changes against the old one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import takewhile
from typing import Any

from rich.console import RenderableType

from packseq.day.events import said
from packseq.day.replanned import Replanned, Rest
from packseq.plan.model import Move
from packseq.report.alternatives import Alternative
from packseq.report.layout import bullets, section
from packseq.report.leftout import left_out_document, left_out_sentences
from packseq.report.plandata import planned_document
from packseq.report.planned import planned_house
from packseq.report.words import counted, metres, names, put_on
from packseq.scenario.model import Lap


def replanned_house(
    made: Replanned, alternatives: Sequence[Alternative], more: Mapping[Lap, int], *, stopped: bool
) -> tuple[RenderableType, ...]:
    """Return the new plan behind what led to it and what it changes."""
    parts = [section("Made again from the site as it is", bullets((_where(made), *made.now.remarks)))]
    if made.left.absent:
        parts.append(section("Left out", bullets(left_out_sentences(made.left, more))))
    if made.rest is not None:
        parts.append(section("Against the old plan", bullets(_changes(made, made.rest))))
    return (*parts, *planned_house(made.done, alternatives, stopped=stopped))


def replanned_document(
    made: Replanned, alternatives: Sequence[Alternative], more: Mapping[Lap, int], *, stopped: bool
) -> dict[str, Any]:
    """Return the same as data."""
    return planned_document(made.done, alternatives, stopped=stopped) | {
        "journal_remarks": made.now.remarks,
        "left_out": left_out_document(made.left, more),
        "against_old_plan": None if made.rest is None else list(_changes(made, made.rest)),
    }


def _where(made: Replanned) -> str:
    stood, frames = len(made.now.state.stood), len(made.now.house.scenario.frames)
    return f"{stood} of {frames} frames stand; this plan stands {len(_stands(made.done.plan.moves))} more."


def _changes(made: Replanned, rest: Rest) -> Iterator[str]:
    """Say what happened that the old plan does not know of, whether it could go on, and what changes."""
    for noted in rest.followed.unknown:
        yield f"Not in the old plan: {said(noted.event)} (row {noted.row})."
    old, new = rest.done, made.done
    if old.kept:
        yield f"The old plan could go on: {_cost(old.cost.extra_lifts, old.cost.walking_mm)} from here."
        yield f"The new one: {_cost(new.cost.extra_lifts, new.cost.walking_mm)} from here."
    else:
        first = old.violations[0]
        yield f"The old plan cannot go on: {first.rule}: {first.text}."
    yield from _order(_stands(rest.followed.open), _stands(new.plan.moves))
    yield from _asides(rest.followed.open, new.plan.moves)


def _cost(lifts: int, walking_mm: int) -> str:
    return f"{counted(lifts, 'extra lift')} and {metres(walking_mm)} m"


def _stands(moves: Sequence[Move]) -> list[str]:
    return [move.frame for move in moves if move.do == "stand"]


def _order(old: Sequence[str], new: Sequence[str]) -> Iterator[str]:
    if list(old) == list(new):
        yield "The frames are stood in the same order as before."
        return
    dropped = [name for name in old if name not in new]
    if dropped:
        yield f"Not stood by the new plan: {names(dropped)}."
    kept = [name for name in old if name in new]
    same = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(kept, new, strict=False)))
    if same == len(new):
        yield "The others are stood in the same order as before."
    elif same:
        yield f"The next {counted(same, 'frame')} as before, then {new[same]} instead of {_at(kept, same)}."
    else:
        yield f"Next {new[0]} instead of {_at(kept, 0)}."


def _at(order: Sequence[str], place: int) -> str:
    return order[place] if place < len(order) else "nothing"


def _asides(old: Sequence[Move], new: Sequence[Move]) -> Iterator[str]:
    before = {move.frame: put_on(move) for move in old if move.do == "set aside"}
    after = {move.frame: put_on(move) for move in new if move.do == "set aside"}
    no_more = [name for name in before if name not in after]
    now_too = [f"{name} on {where}" for name, where in after.items() if name not in before]
    elsewhere = [
        f"{name} on {where}" for name, where in after.items() if name in before and before[name] != where
    ]
    if no_more:
        yield f"No longer set aside: {names(no_more)}."
    if now_too:
        yield f"Now set aside too: {names(now_too)}."
    if elsewhere:
        yield f"Set aside elsewhere: {names(elsewhere)}."
