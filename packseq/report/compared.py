"""The same job under other choices, for people: the answer of ``packseq compare``."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rich.console import RenderableType

from packseq.check.blame import Blame, blamed
from packseq.check.timing import estimate
from packseq.compare.advice import advice
from packseq.compare.outcome import Outcome
from packseq.compare.trying import MOST_LANDINGS, Comparison
from packseq.house.model import House
from packseq.plan.model import StageResult
from packseq.report.cautions import CAUTIONS
from packseq.report.daytime import LEFT_OUT, duration, rates_sentence
from packseq.report.headline import HOW_WALKED
from packseq.report.layout import bullets, columns, paragraph, section
from packseq.report.words import counted, metres, names

MOST_REASONS = 3
"""Most reasons that are told for a row without a plan."""

_HEADINGS = ("", "extra lifts", "metres", "person-metres", "breaks", "time, about", "how sure")
_AMOUNTS = frozenset(_HEADINGS[1:-1])


def compared_choices(
    house: House, comparison: Comparison, unplanned: Sequence[Outcome], *, stopped: bool
) -> tuple[RenderableType, ...]:
    """Return the comparison, advice first.

    Parameters
    ----------
    house
        The house as the scenario has it.
    comparison
        The job as it is and with each change.
    unplanned
        The same job without a plan.
    stopped
        Whether somebody ended the comparison early.
    """
    rows = (*comparison.rows, *unplanned)
    without = [line for row in rows if (line := _why_none(row)) is not None]
    return (
        section(f"{house.scenario.name}: other choices side by side", bullets(advice(comparison.rows))),
        section("One change at a time", columns(_HEADINGS, map(_row, rows), right=_AMOUNTS)),
        *([section("Without a plan", bullets(without))] if without else []),
        section("How to read it", bullets(_notes(house, comparison, stopped=stopped))),
        *blame_sections(comparison.own),
        section("Take care", bullets(CAUTIONS)),
    )


def blame_sections(own: Outcome) -> tuple[RenderableType, ...]:
    """Return which frames of which pack cause the extra lifts of the job as it is."""
    title = "What the extra lifts come from, for the prenailer"
    if own.done is None:
        return ()
    every = blamed(own.done)
    if not every:
        return (section(title, paragraph("There are none.")),)
    headings = ("pack", "set aside", "stood before it, from beneath it", "to be free of it", "saves")
    rows = [
        row for pack, group in groupby(every, lambda blame: blame.pack) for row in _blame_rows(pack, group)
    ]
    return (section(title, columns(headings, rows, right={"saves"}), bullets(_BLAME_NOTES)),)


_BLAME_NOTES = (
    (
        "For the plan in the first row; each line is one extra lift. Loaded in a layer of its own just below "
        "the frame named, it need not be set aside in the same stand order, and forces no other frame aside."
    ),
    "Whether the pack then lies, straps and travels well is for the plant to say.",
)


def how_sure(row: Outcome) -> str:
    """Return how good a row is known to be, in few words."""
    if row.ending == "no plan":
        return f"no plan: {', '.join(sorted({rule for each in row.conflicts for rule in each.rules}))}"
    if row.ending != "plan":
        return {"none found": "no plan found", "stuck": "gets stuck"}.get(row.ending, row.ending)
    if not row.planned:
        return "unplanned"
    if row.proven:
        return "proven"
    open_still = [_at_least(stage) for stage in row.stages if stage.name != "breaks" and _told(stage)]
    lifts = row.stages[0]
    first = "lifts proven; " if lifts.name == "extra lifts" and lifts.status == "optimal" else "best found; "
    return first + (" and ".join(open_still) or "how much could be saved is not known")


def _told(stage: StageResult) -> bool:
    return 0 < stage.bound < stage.value


def _at_least(stage: StageResult) -> str:
    amount = counted(stage.bound, "lift") if stage.name == "extra lifts" else f"{metres(stage.bound)} m"
    return f"at least {amount}"


def _row(row: Outcome) -> tuple[str, ...]:
    if row.done is None:
        return (row.name, "", "", "", "", "", how_sure(row))
    cost = row.done.cost
    return (
        row.name,
        str(cost.extra_lifts),
        str(metres(cost.walking_mm)),
        str(metres(cost.person_mm)),
        str(cost.breaks),
        duration(estimate(row.done).total_s),
        how_sure(row),
    )


def _why_none(row: Outcome) -> str | None:
    if row.done is not None:
        return None
    if not row.conflicts:
        return f"{row.name}: {row.reason or 'nothing was found'}."
    together = groupby(row.conflicts, key=lambda conflict: ", ".join(conflict.rules))
    why = (f"{rules}: {_some(conflict.text for conflict in group)}" for rules, group in together)
    return f"{row.name}: {'; '.join(why)}."


def _some(texts: Iterable[str]) -> str:
    every = list(texts)
    more = [f"and {len(every) - MOST_REASONS} more"] if len(every) > MOST_REASONS else []
    return "; ".join([*every[:MOST_REASONS], *more])


def _notes(house: House, comparison: Comparison, *, stopped: bool) -> Iterator[str]:
    stand, crew = house.scenario.stand, house.scenario.crew
    going = "either direction" if stand.direction == "auto" else stand.direction
    yield (
        f"The scenario has: {stand.lap} lap, {going}, at most {stand.hold_open} held open, "
        f"{counted(crew.people, 'person', 'people')}. Every other row changes one thing; what two changes "
        "save need not add up."
    )
    yield (
        "Proven: no plan under these choices has fewer extra lifts, nor walks less with as few. At least: no "
        "plan can do with less; what lies between is not known. A longer --limit may tell."
    )
    if stopped:
        yield "The comparison was stopped: what was found by then is shown, and every plan shown is checked."
    if comparison.places_left_out:
        left = counted(comparison.places_left_out, "place")
        yield f"Only the first {MOST_LANDINGS} landing places are compared; {left} left out."
    yield "Breaks: frames stood that do not touch the one stood before."
    yield rates_sentence(house.scenario.rates)
    yield LEFT_OUT
    yield HOW_WALKED


def _blame_rows(pack: str, group: Iterator[Blame]) -> Iterator[tuple[str, ...]]:
    for number, blame in enumerate(group):
        saves = "" if blame.saves is None else str(blame.saves)
        yield (pack if number == 0 else "", blame.frame, _stood_before(blame), _free_of(blame), saves)


def _stood_before(blame: Blame) -> str:
    if not blame.wanted_first:
        return "none: set aside for the walking"
    where = "" if blame.below is not None else f" ({blame.lay_on})"
    return names(blame.wanted_first) + where


def _free_of(blame: Blame) -> str:
    return "" if blame.below is None else f"load {blame.frame} below {blame.below}"
