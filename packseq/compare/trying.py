"""Try every change within one limit, and let each row profit from what the others found."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from packseq.check import replay
from packseq.compare.changes import Change, crew_changes, landing_changes, stand_changes
from packseq.compare.outcome import Outcome, restaged, worth
from packseq.errors import LimitError, NoPlanError
from packseq.house.model import House
from packseq.plan.model import Plan

AS_IT_IS = "As the scenario has it"

MOST_LANDINGS = 12
"""Most places of packs that are compared: more would leave too little time for each."""

OWN_SHARE = 0.25
"""Share of the limit for the scenario's own choice; the changes that need a search share the rest.

The shares are fixed, so that how long one search took never changes what the next one finds.
"""


@dataclass(frozen=True)
class Comparison:
    """The rows, the scenario's own choice first, and how many places of packs were left out."""

    rows: tuple[Outcome, ...]
    places_left_out: int

    @property
    def own(self) -> Outcome:
        """The job as the scenario has it."""
        return self.rows[0]


Search = Callable[[House, float], Plan]
"""Finds a plan for a house within so many seconds, or raises as `plan_standup` does."""

Listener = Callable[[str, int, int], None]
"""Told before each search: the row's name, its number, and how many there are."""


def compare_choices(
    house: House, search: Search, *, limit_s: float, stopped: Callable[[], bool], listener: Listener
) -> Comparison:
    """Return the job as it is and with each change, every plan replayed.

    A change that only narrows the job needs no search where the plan found for the job as it is keeps
    its rules: that plan is best there too, as far as it is known to be best here. A plan found for one
    row that another, unproven row allows and that is better there is taken over.

    Parameters
    ----------
    house
        The house as the scenario has it.
    search
        Finds a plan.
    limit_s
        Seconds for all searches together.
    stopped
        Tells whether to begin no further search.
    listener
        Told what is searched.
    """
    listener(AS_IT_IS, 1, 1)
    own = _searched(AS_IT_IS, None, house, search, limit_s * OWN_SHARE)
    packs = house.scenario.packs
    first = {name: pack.places[0] for name, pack in packs.items()}
    landings = list(landing_changes(house, first if own.done is None else own.done.job.places))
    changes = [*stand_changes(house), *landings[:MOST_LANDINGS], *crew_changes(house)]
    settled = {change.name: _taken_over(change, own) for change in changes}
    open_still = [change for change in changes if settled[change.name] is None]
    share_s = limit_s * (1 - OWN_SHARE) / max(1, len(open_still))
    rows = [own]
    for change in changes:
        row = settled[change.name]
        if row is None and stopped():
            row = Outcome(change.name, change, reason="stopped before its turn", searched=False)
        elif row is None:
            listener(change.name, 2 + open_still.index(change), 1 + len(open_still))
            row = _searched(change.name, change, change.house, search, share_s)
        rows.append(row)
    bettered = tuple(_bettered(row, house, rows) for row in rows)
    return Comparison(bettered, len(landings[MOST_LANDINGS:]))


def _searched(name: str, change: Change | None, house: House, search: Search, limit_s: float) -> Outcome:
    try:
        plan = search(house, limit_s)
    except NoPlanError as error:
        return Outcome(name, change, conflicts=error.conflicts)
    except LimitError as error:
        return Outcome(name, change, reason=str(error))
    done = replay(house, plan)
    if not done.kept:
        raise AssertionError(f"the search and the check disagree: {done.violations[0]}")
    return Outcome(name, change, done, restaged(done, plan.stages))


def _taken_over(change: Change, own: Outcome) -> Outcome | None:
    """Return the row of a change that the plan of the job as it is answers, None where it does not."""
    if not change.narrows or own.done is None:
        return None
    done = replay(change.house, own.done.plan, own.done.job.routes)
    if not done.kept:
        return None
    return Outcome(change.name, change, done, own.stages, found_for=own.name)


def _bettered(row: Outcome, house: House, rows: Sequence[Outcome]) -> Outcome:
    """Return a row with the best plan of all rows that its own rules allow."""
    if row.conflicts or (row.stages and all(stage.status == "optimal" for stage in row.stages)):
        return row
    its_house = house if row.change is None else row.change.house
    others = [(worth(other.done), other.name, other.done) for other in rows if other.done is not None]
    for value, name, plan in sorted(others, key=lambda other: other[0]):
        if row.done is not None and value >= worth(row.done):
            break
        # Routes know the landing places of their own house only.
        alike = plan.job.house.scenario.packs == its_house.scenario.packs
        done = replay(its_house, plan.plan, plan.job.routes if alike else None)
        if done.kept:
            return replace(row, done=done, stages=restaged(done, row.stages), reason=None, found_for=name)
    return row
