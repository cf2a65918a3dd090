"""What came of one way of doing the job: a checked plan with its bounds, or why there is none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from packseq.check import Replay
from packseq.check.cost import Cost
from packseq.compare.changes import Change
from packseq.errors import Conflict
from packseq.plan.model import StageResult

Ending = Literal["plan", "no plan", "none found", "not searched", "stuck"]


@dataclass(frozen=True)
class Outcome:
    """One row of the comparison.

    Parameters
    ----------
    name
        What is done, as the row is headed.
    change
        What differs from the scenario's own choice; None for that choice itself, and for crews that
        work unplanned.
    done
        The plan as replayed; None where there is none.
    stages
        For each stage what the plan costs and what is proven; none for a crew that works unplanned.
    conflicts
        The rules in conflict where no plan keeps them.
    reason
        Why there is nothing to show, where that is not for the rules.
    searched
        False where the comparison was stopped before this row.
    planned
        False for a crew that works unplanned.
    found_for
        The row that the plan was found for, where that is another one.
    """

    name: str
    change: Change | None
    done: Replay | None = None
    stages: tuple[StageResult, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    reason: str | None = None
    searched: bool = True
    planned: bool = True
    found_for: str | None = None

    @property
    def ending(self) -> Ending:
        """What came of it, in a word or two."""
        if self.done is not None:
            return "plan"
        if self.conflicts:
            return "no plan"
        if not self.planned:
            return "stuck"
        return "none found" if self.searched else "not searched"

    @property
    def proven(self) -> bool:
        """Whether extra lifts and walking are proven best; breaks, which come last, are not asked for."""
        ruling = [stage for stage in self.stages if stage.name != "breaks"]
        return bool(ruling) and all(stage.status == "optimal" for stage in ruling)


Worth = tuple[int, ...]


def worth(done: Replay) -> Worth:
    """Return what a plan costs, to be compared: extra lifts, walking and breaks, or the two merged first."""
    return tuple(_values(done.cost, done.job.choices.lift_worth_m).values())


def restaged(done: Replay, found: Sequence[StageResult]) -> tuple[StageResult, ...]:
    """Return the stages of a plan by the bounds of a search, whether or not that search found it.

    The bound of the first stage holds for every plan. That of a later one was proven for plans as good
    as the search's own in the stages before it: it is kept where this plan is just that.

    Parameters
    ----------
    done
        The plan.
    found
        The stages of the search's own plan; none where it found none, or proved nothing.

    Raises
    ------
    AssertionError
        When the plan costs less than what the search proved: then the search is wrong.
    """
    by_name = {stage.name: stage for stage in found}
    stages: list[StageResult] = []
    alike = bool(found)
    proven = True
    for name, value in _values(done.cost, done.job.choices.lift_worth_m).items():
        bound = by_name[name].bound if alike else 0
        if bound > value:
            raise AssertionError(f"{name}: a plan costs {value}, less than the bound of {bound}")
        proven = proven and bound == value and alike
        status: Literal["optimal", "best found"] = "optimal" if proven else "best found"
        stages.append(StageResult(name=name, value=value, bound=bound, status=status))
        alike = alike and by_name[name].value == value
    return tuple(stages)


def _values(cost: Cost, lift_worth_m: float) -> Mapping[str, int]:
    """Return the measures that are minimised, in their order, by the names of the stages."""
    if lift_worth_m > 0:
        return {"cost_mm": cost.merged_mm(lift_worth_m), "breaks": cost.breaks}
    return {"extra lifts": cost.extra_lifts, "walking_mm": cost.walking_mm, "breaks": cost.breaks}
