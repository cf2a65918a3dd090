"""The headline of a plan: what it costs, what it saves, and how sure that is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType

from rich.console import RenderableType

from packseq.check import Replay
from packseq.check.timing import estimate
from packseq.plan.model import StageResult
from packseq.report.alternatives import Alternative
from packseq.report.daytime import duration, time_sentences
from packseq.report.layout import bullets, columns, paragraph, section
from packseq.report.words import counted, metres

HOW_WALKED = (
    "Metres are the lifting team's way, loaded and empty-handed: each leg the shortest there is round what "
    "stands by then and round no-go areas, through doors where they are wide and high enough."
)
"""How the metres in every report are measured."""

_Amount = Callable[[int], str]


def _in_metres(length_mm: int) -> str:
    return f"{metres(length_mm)} m"


_STAGES: Mapping[str, tuple[str, _Amount, str]] = MappingProxyType(
    {
        "extra lifts": ("Extra lifts", str, "no order that keeps the rules needs fewer"),
        "walking_mm": ("Walking", _in_metres, "with that many extra lifts no order walks less"),
        "breaks": (
            "Frames stood away from the one before",
            str,
            "no order as good in lifts and walking has fewer",
        ),
        "cost_mm": (
            "Extra lifts and walking together",
            _in_metres,
            "no order that keeps the rules costs less",
        ),
    }
)
"""For each stage its name for people, how to say an amount of it, and what its proof says."""


def headline(planned: Replay, alternatives: Sequence[Alternative], *, stopped: bool) -> RenderableType:
    """Return the first thing to read about a plan.

    Parameters
    ----------
    planned
        The plan as replayed: its true cost is shown.
    alternatives
        The same job unplanned.
    stopped
        Whether somebody ended the search early.
    """
    cost = planned.cost
    stood = sum(move.do == "stand" for move in planned.plan.moves)
    first = (
        f"{counted(cost.extra_lifts, 'extra lift')} and {metres(cost.walking_mm)} m walked "
        f"to stand {counted(stood, 'frame')}."
    )
    more = _sentences(planned, alternatives, stopped=stopped)
    return section(planned.plan.scenario, paragraph(first), bullets(more))


def cost_table(planned: Replay, alternatives: Sequence[Alternative]) -> RenderableType:
    """Return the costs of the plan and of working unplanned, side by side."""
    rows = [_cost_row("as planned", planned)]
    for other in alternatives:
        if other.done is None:
            rows.append((f"a crew that {other.how}", "gets stuck", "", "", "", ""))
        else:
            rows.append(_cost_row(f"a crew that {other.how}", other.done))
    headings = (
        "",
        "extra lifts",
        "metres walked",
        "person-metres",
        "stood away from the one before",
        "time, about",
    )
    return section("Planned and unplanned", columns(headings, rows, right={*headings[1:]}))


def stage_sentence(stage: StageResult) -> str:
    """Return how good one measure is known to be: proven, or how much could still be saved."""
    name, amount, proof = _STAGES.get(stage.name, (stage.name, str, "no order does better"))
    said = f"{name}: {amount(stage.value)}."
    if stage.status == "optimal":
        return f"{said} Proven: {proof}."
    if stage.status == "none":
        return f"{said} Not searched any further."
    if stage.value > stage.bound == 0:
        return f"{said} Best found; how much could be saved is not known."
    if stage.value == stage.bound:
        return f"{said} Best found: none better without costing more of what comes first."
    share = (stage.value - stage.bound) / stage.value
    return f"{said} Best found; at least {amount(stage.bound)} are needed (gap {share:.1%})."


def _sentences(planned: Replay, alternatives: Sequence[Alternative], *, stopped: bool) -> Iterator[str]:
    for other in alternatives:
        yield _against(planned, other)
    yield from (stage_sentence(stage) for stage in planned.plan.stages)
    if stopped:
        yield "The search was stopped: this is the best plan found by then, and it is checked."
    yield from time_sentences(estimate(planned))
    yield "An extra lift is one more lift of a frame that must be set aside before its turn."
    yield HOW_WALKED


def _against(planned: Replay, other: Alternative) -> str:
    crew = f"Against a crew that {other.how}, unplanned"
    if other.done is None:
        return f"{crew}: no comparison, because that crew gets stuck ({other.stuck})."
    lifts = other.done.cost.extra_lifts - planned.cost.extra_lifts
    walked = metres(other.done.cost.walking_mm) - metres(planned.cost.walking_mm)
    return f"{crew}: {_lifts(lifts)} and {_walking(walked)}."


def _lifts(saved: int) -> str:
    if saved == 0:
        return "as many extra lifts"
    return f"{counted(abs(saved), 'extra lift')} {'fewer' if saved > 0 else 'more'}"


def _walking(saved_m: int) -> str:
    if saved_m == 0:
        return "as much walking"
    return f"{abs(saved_m)} m {'less' if saved_m > 0 else 'more'} walking"


def _cost_row(name: str, done: Replay) -> tuple[str, ...]:
    cost = done.cost
    return (
        name,
        str(cost.extra_lifts),
        str(metres(cost.walking_mm)),
        str(metres(cost.person_mm)),
        str(cost.breaks),
        duration(estimate(done).total_s),
    )
