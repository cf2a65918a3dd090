"""The verdict on a plan file: every broken rule, and what the plan truly costs."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import RenderableType

from packseq.check import Replay
from packseq.report.headline import HOW_WALKED
from packseq.report.layout import bullets, columns, listing, section
from packseq.report.words import counted, metres


def verdict(file: str, done: Replay, hint: str | None) -> tuple[RenderableType, ...]:
    """Return the verdict on a replayed plan.

    Parameters
    ----------
    file
        Name of the plan file.
    done
        Its replay.
    hint
        Why the plan may break the rules of this scenario, where that can be told.
    """
    parts = [listing(_headline(file, done, hint))]
    if done.violations:
        rows = ((str(each.move_number or ""), each.rule, each.text) for each in done.violations)
        parts.append(section("What is wrong", columns(("move", "rule", "how"), rows, right={"move"})))
    parts.append(section("What it truly costs", bullets(_costs(done))))
    return tuple(parts)


def _headline(file: str, done: Replay, hint: str | None) -> Iterator[str]:
    job = done.job.house.scenario.name
    if done.kept:
        yield f"{file} keeps every rule of {job}, and what it says of itself is so."
        yield "Whether another plan would be better is not proven again here."
    else:
        places = counted(len(done.violations), "thing is", "things are")
        yield f"{file} fails its check for {job}: {places} wrong."
    if hint is not None:
        yield hint


def _costs(done: Replay) -> Iterator[str]:
    cost = done.cost
    yield (
        f"{counted(cost.extra_lifts, 'extra lift')}, {metres(cost.walking_mm)} m walked, "
        f"{metres(cost.person_mm)} person-metres."
    )
    by_pack = (f"{name} {count}" for name, count in cost.extra_lifts_by_pack.items())
    yield f"Extra lifts by pack: {', '.join(by_pack)}."
    yield f"Frames stood away from the one before: {cost.breaks}."
    if not done.kept:
        yield "Moves that cannot be carried out are left out of these figures."
    yield HOW_WALKED
