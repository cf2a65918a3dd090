"""A load as it is handed on: packs, plan, and what is proven of both."""

from __future__ import annotations

from dataclasses import dataclass

from packseq.check.loading import MeasuredPack
from packseq.house.model import House
from packseq.loading.judge import Judged
from packseq.plan.load import Load
from packseq.plan.model import Plan, StageResult

LIFTS, PACKS, WALKING = "extra lifts", "packs", "walking_mm"

Stages = tuple[StageResult, StageResult, StageResult]


@dataclass(frozen=True)
class BestLoad:
    """The best load found and what is proven of it.

    Parameters
    ----------
    house
        The house with these packs delivered, in its scenario.
    load
        The packs as laid up and how they travel, in the order in which they are wanted.
    packs
        The same packs, measured.
    plan
        A plan that stands the house from these packs, replayed by the check: with it the site has the
        extra lifts that the load promises.
    stages
        Extra lifts, packs, walking in mm: value, bound that holds for every load, status.
    """

    house: House
    load: Load
    packs: tuple[MeasuredPack, ...]
    plan: Plan
    stages: Stages

    @property
    def extra_lifts(self) -> int:
        """The extra lifts that the load promises."""
        return self.stages[0].value


def best_of_all(judged: Judged, bounds: tuple[int, int, int]) -> BestLoad:
    """Return a checked load with what is proven of its extra lifts, packs and walking (see `stages_of`)."""
    return BestLoad(judged.house, judged.load, judged.packs, judged.plan, stages_of(judged.worth, bounds))


def stages_of(values: tuple[int, int, int], bounds: tuple[int, int, int]) -> Stages:
    """Return extra lifts, packs and walking in mm with what is proven: no load has fewer than the bounds.

    The bound on packs is for loads with as few extra lifts, that on walking for as few packs too.
    """
    lifts = _stage(LIFTS, values[0], bounds[0])
    packs = _stage(PACKS, values[1], bounds[1], lifts)
    return lifts, packs, _stage(WALKING, values[2], bounds[2], packs)


def _stage(name: str, value: int, bound: int, before: StageResult | None = None) -> StageResult:
    """Return a stage's result: optimal only if proven, and only on top of a stage that is."""
    bound = max(0, min(bound, value))
    proven = bound == value and (before is None or before.status == "optimal")
    return StageResult(name=name, value=value, bound=bound, status="optimal" if proven else "best found")
