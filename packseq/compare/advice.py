"""What the rows say, in a sentence or two."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from packseq.check import Replay
from packseq.check.timing import estimate
from packseq.compare.outcome import Outcome, Worth, worth
from packseq.scenario.model import Pack

LEAST_SHARE = 0.01
"""Share of the walking, or of the merged cost, that is worth a sentence: our choice, no source."""


def advice(rows: Sequence[Outcome]) -> tuple[str, ...]:
    """Return what the best change saves, the dearest costs and the landing saved, and whether fewer would do.

    Of changes only what a supervisor can choose counts: lap, direction, frames held open and landing
    places. The first row is the job as it is. Walking that differs by less than `LEAST_SHARE` of what is
    walked now is no reason to change anything.
    """
    own, *others = rows
    choices = [row for row in others if row.change is not None and row.change.what != "people"]
    if own.done is None:
        return tuple(_without_own(own, choices))
    return (
        *_against(own, own.done, choices),
        *_landing(own, own.done, choices),
        *_smaller_crew(own.done, others),
    )


def _without_own(own: Outcome, choices: Sequence[Outcome]) -> Iterator[str]:
    there = [(row, row.done) for row in choices if row.done is not None]
    nothing = "As it is no plan keeps the rules" if own.conflicts else "As it is no plan was found"
    if not there:
        yield f"{nothing}, and none of the changes has a plan either."
        return
    row, done = min(there, key=lambda each: worth(each[1]))
    cost = done.cost
    yield (
        f"{nothing}. {_doing(row)} there is one: {_lifts(cost.extra_lifts)} and "
        f"{round(cost.walking_mm / 1000)} m of walking."
    )


def _against(own: Outcome, now: Replay, choices: Sequence[Outcome]) -> Iterator[str]:
    there = [(row, row.done) for row in choices if row.done is not None]
    mine = _ruling(now)
    better = [(row, done) for row, done in there if _clearly_less(_ruling(done), mine)]
    # A poor plan that was all the time allowed says nothing against a choice: only what is proven does.
    worse = [(row, done) for row, done in there if _clearly_less(mine, _bounds(row))]
    unproven = own.done is not None and not own.proven
    if better:
        row, done = min(better, key=lambda each: worth(each[1]))
        yield f"{_doing(row)} {_effect(now, done)}{_unless_proven(own, row)}."
    elif there:
        found = ", as far as found" if unproven or any(not row.proven for row, _ in there) else ""
        yield (
            "No other lap, direction, number of frames held open or landing place saves an extra lift, or "
            f"{LEAST_SHARE:.0%} of the walking{found}."
        )
    if worse:
        row, done = max(worse, key=lambda each: _bounds(each[0]))
        if row.stages[0].status == "optimal":
            yield f"{_doing(row)} {_effect(now, done)}{_unless_proven(own, row)}."
        else:
            yield f"{_doing(row)} costs at least {_sure_cost(mine, _bounds(row))}."


def _landing(own: Outcome, now: Replay, choices: Sequence[Outcome]) -> Iterator[str]:
    """Say what the landing that the plan chose saves against the first place of each pack."""
    packs = now.job.house.scenario.packs
    moved = [name for name, pack in packs.items() if now.job.places[name] != pack.places[0]]
    if not moved:
        return
    where = " and ".join(f"pack {name}" for name in moved)
    about = f"Landing {where} as the plan does, not at the first place,"
    for row in choices:
        if not _lands_first(row, packs):
            continue
        if row.done is not None:
            effect = _effect(row.done, now)
            yield f"{about} {effect or 'makes no difference'}{_unless_proven(own, row)}."
        elif row.conflicts:
            yield f"{about} is what makes a plan possible."
        return


def _lands_first(row: Outcome, packs: Mapping[str, Pack]) -> bool:
    change = row.change
    if change is None or change.what != "place":
        return False
    there = change.house.scenario.packs
    return all(there[name].places == (pack.places[0],) for name, pack in packs.items())


def _smaller_crew(now: Replay, others: Sequence[Outcome]) -> Iterator[str]:
    people = now.job.house.scenario.crew.people
    for row in others:
        change = row.change
        if change is None or change.what != "people" or row.done is None:
            continue
        if change.house.scenario.crew.people < people:
            yield f"{change.doing} has enough for every team too, by the masses and the share per person."


def _doing(row: Outcome) -> str:
    return row.name if row.change is None else row.change.doing


def _ruling(done: Replay) -> Worth:
    """Return extra lifts and walking, or the two merged; breaks, which come last, are no reason."""
    return worth(done)[:-1]


def _bounds(row: Outcome) -> Worth:
    """Return what every plan of a row costs at least, by the same measures.

    A bound for the walking counts only beside a proven number of extra lifts.
    """
    first, *others = row.stages[:-1]
    return (first.bound, *(stage.bound if first.status == "optimal" else 0 for stage in others))


def _clearly_less(one: Worth, other: Worth) -> bool:
    """Tell whether one cost is less than another by enough to be worth a sentence."""
    *lifts, walking = one
    *other_lifts, other_walking = other
    return lifts < other_lifts or (lifts == other_lifts and walking <= other_walking * (1 - LEAST_SHARE))


def _sure_cost(mine: Worth, bounds: Worth) -> str:
    if len(bounds) > 1:
        return _lifts(bounds[0] - mine[0])
    return f"{round((bounds[0] - mine[0]) / 1000)} m, extra lifts and walking together"


def _effect(now: Replay, then: Replay) -> str:
    lifts = now.cost.extra_lifts - then.cost.extra_lifts
    walked = round(now.cost.walking_mm / 1000) - round(then.cost.walking_mm / 1000)
    minutes = round(estimate(now).total_s / 60) - round(estimate(then).total_s / 60)
    saves = [words for amount, words in _amounts(lifts, walked) if amount > 0]
    costs = [words for amount, words in _amounts(lifts, walked) if amount < 0]
    parts = [f"{verb} {' and '.join(words)}" for verb, words in (("saves", saves), ("costs", costs)) if words]
    said = " and ".join(parts)
    same = ", with as many extra lifts" if lifts == 0 else ""
    if minutes == 0:
        return f"{said}{same}"
    return f"{said}{same}: about {abs(minutes)} min {'less' if minutes > 0 else 'more'}"


def _amounts(lifts: int, walked_m: int) -> tuple[tuple[int, str], ...]:
    return ((lifts, _lifts(abs(lifts))), (walked_m, f"{abs(walked_m)} m of walking"))


def _lifts(count: int) -> str:
    return f"{count} extra lift{'' if count == 1 else 's'}"


def _unless_proven(own: Outcome, row: Outcome) -> str:
    return "" if own.proven and row.proven else " (by the best plans found, not proven)"
