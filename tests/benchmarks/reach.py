"""One house planned in a process of its own: when what was known, and how much memory it took."""

from __future__ import annotations

import multiprocessing
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import ParamSpec, TypeVar

from generated import generated_scenario

from packseq.baseline import Unplanned, by_frame_list, by_nearest
from packseq.check import replay
from packseq.check.cost import Cost
from packseq.errors import LimitError
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.model import Plan, StageResult
from packseq.routes.engine import build_routes
from packseq.scenario.read import read_scenario
from packseq.standup.progress import Progress
from packseq.standup.search import plan_standup

SCENARIOS = Path(__file__).parents[2] / "scenarios"
CREWS: dict[str, Callable[..., Unplanned]] = {
    "crew, by the frame list": by_frame_list,
    "crew, by what lies nearest": by_nearest,
}
Given = ParamSpec("Given")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Job:
    """A demo house by its name, or a generated one of so many frames in so many packs."""

    name: str
    frames: int | None = None
    packs: int = 3

    def house(self) -> House:
        """Return the house."""
        if self.frames is None:
            return derive_house(read_scenario(SCENARIOS / self.name))
        return derive_house(generated_scenario(self.frames, packs=self.packs))


@dataclass(frozen=True, slots=True)
class Span:
    """A moment of which the reports only tell that it lay between two others, in seconds."""

    after_s: float
    by_s: float

    def __str__(self) -> str:
        return f"{self.after_s:.1f} to {self.by_s:.1f} s"

    def within(self, bar_s: float) -> bool | None:
        """Tell whether it was within a bar; None if the bar lies inside the span."""
        if self.by_s <= bar_s:
            return True
        return False if self.after_s > bar_s else None


@dataclass(frozen=True)
class Reach:
    """What came of planning one house.

    `crews` holds what each unplanned crew costs, None where it got stuck; both were replayed
    `crews_s` seconds after the routes, which they share, began to be built. `reports` are those of the
    search, `ended_s` after it began. `plan` is None when the limit came first; `cost` is what the check
    makes of it.
    """

    job: Job
    frames: int
    limit_s: float
    crews: dict[str, Cost | None]
    crews_s: float
    reports: tuple[Progress, ...]
    ended_s: float
    plan: Plan | None
    cost: Cost | None
    peak_mib: float | None

    @property
    def first_searched_s(self) -> float | None:
        """When the search first told of fewer lifts than an unplanned crew has, or of its walking."""
        crews = next((report.value for report in self.reports if report.value is not None), None)
        for report in self.reports:
            better = report.value is not None and crews is not None and report.value < crews
            if better or report.stage == "walking_mm":
                return report.seconds
        return None

    def stage(self, name: str) -> StageResult | None:
        """Return a stage of the plan."""
        stages = () if self.plan is None else self.plan.stages
        return next((stage for stage in stages if stage.name == name), None)

    def proven(self, name: str) -> Span | None:
        """Return when a stage was proven, None if it was not.

        After its last report (a direction that cannot match the other one is ruled out without
        a report), before the first report of the next stage or the end.
        """
        stage = self.stage(name)
        if stage is None or stage.status != "optimal":
            return None
        names = [report.stage for report in self.reports]
        if name not in names:
            return Span(0.0, self.ended_s)
        last = len(names) - 1 - names[::-1].index(name)
        following = self.reports[last + 1 :]
        return Span(self.reports[last].seconds, following[0].seconds if following else self.ended_s)


def alone(function: Callable[Given, Result], /, *arguments: Given.args, **named: Given.kwargs) -> Result:
    """Return what a function returns when it is called in a new process."""
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(max_workers=1, mp_context=spawn) as pool:
        return pool.submit(function, *arguments, **named).result()


def reach(job: Job, limit_s: float) -> Reach:
    """Plan a house and tell what was reached when; call it by `alone`, for its memory's sake."""
    house = job.house()
    crews, crews_s = _crews(house)
    reports: list[Progress] = []
    began_s = time.perf_counter()
    try:
        plan = plan_standup(house, limit_s=limit_s, listener=reports.append)
    except LimitError:
        plan = None
    ended_s = time.perf_counter() - began_s
    return Reach(
        job=job,
        frames=len(house.scenario.frames),
        limit_s=limit_s,
        crews=crews,
        crews_s=crews_s,
        reports=tuple(reports),
        ended_s=ended_s,
        plan=plan,
        cost=None if plan is None else _checked(house, plan),
        peak_mib=peak_mib(),
    )


def _crews(house: House) -> tuple[dict[str, Cost | None], float]:
    """Return what each unplanned crew costs, and the seconds until all were replayed."""
    began_s = time.perf_counter()
    routes = build_routes(house.scenario)
    plans = {name: crew(house, routes=routes).plan for name, crew in CREWS.items()}
    costs = {name: None if plan is None else replay(house, plan, routes).cost for name, plan in plans.items()}
    return costs, time.perf_counter() - began_s


def _checked(house: House, plan: Plan) -> Cost:
    done = replay(house, plan)
    if not done.kept:
        raise AssertionError(f"the plan of {house.scenario.name} fails its check: {done.violations[0]}")
    return done.cost


def peak_mib() -> float | None:
    """Return the most memory that this process has held, None where the platform does not tell."""
    if sys.platform == "win32":
        return None
    import resource  # noqa: PLC0415 - not there on every platform

    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / (1024 * 1024 if sys.platform == "darwin" else 1024)
