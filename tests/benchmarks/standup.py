"""How far the stand-up search gets, how fast, and what it is worth beside simpler ways. Run by hand.

python tests/benchmarks/standup.py [--quick] [--part reach|baselines|growth]

All figures of a table come from one run, one solve at a time, held to two cores where the platform
lets it. Walking is by true routes. A plan counts only when the check has replayed it.
"""

from __future__ import annotations

import argparse
import math
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

from against import contest_table, crews_table, routing_table
from reach import SCENARIOS, Job, Reach, Span, alone, reach
from rich.console import Console
from rich.table import Table
from showing import empty_table, gap

from packseq.plan.model import StageResult

DEMOS = (Job("three-bedroom"), Job("l-shaped"))
LARGE = Job("110 frames", 110, 5)


@dataclass(frozen=True, slots=True)
class Limits:
    """Seconds for each kind of solve, and the sizes of the growth table."""

    reach_s: float
    model_s: float
    routing_s: float
    growth_s: float
    growth: tuple[int, ...]
    baselines: tuple[Job, ...]
    starts: int


FULL = Limits(120, 60, 60, 60, (20, 40, 80, 160), DEMOS, 5)
QUICK = Limits(20, 10, 10, 10, (20, 40), DEMOS[:1], 3)


@dataclass(frozen=True, slots=True)
class Bars:
    """What a house is measured against, in seconds; None where nothing is asked."""

    first_plan_s: float | None = None
    lifts_s: float | None = None
    walking_s: float | None = None
    all_s: float | None = None


BARS = {
    "three-bedroom": Bars(first_plan_s=1, lifts_s=2, walking_s=30),
    "l-shaped": Bars(all_s=120),
    "110 frames": Bars(first_plan_s=10, lifts_s=60),
}
MEMORY_MIB = 1024
PROCESS_BARS = {("--help",): 0.5, ("check", str(SCENARIOS / "three-bedroom")): 1.5}

Row = tuple[str, str, str, str]


def _verdict(within: bool | None) -> str:
    return {True: "met", False: "NOT MET", None: "unclear"}[within]


def _timed(what: str, seen_s: float | Span | None, bar_s: float | None, otherwise: str = "-") -> Row:
    if isinstance(seen_s, Span):
        seen, within = str(seen_s), None if bar_s is None else seen_s.within(bar_s)
    elif seen_s is None:
        seen, within = otherwise, False
    else:
        seen, within = f"{seen_s:.2f} s", None if bar_s is None else seen_s <= bar_s
    return (what, seen, "" if bar_s is None else f"<= {bar_s:g} s", "" if bar_s is None else _verdict(within))


def _open(stage: StageResult | None) -> str:
    """Return value, bound and gap of a stage that is not proven."""
    if stage is None:
        return "no plan"
    return f"{stage.value:,}, bound {stage.bound:,}, gap {gap(stage.value, stage.bound)}"


def _reach_rows(seen: Reach) -> Iterator[Row]:
    bars = BARS[seen.job.name]
    yield _timed("first plan: unplanned crews, replayed", seen.crews_s, bars.first_plan_s)
    yield _timed("first searched plan", seen.first_searched_s, bars.first_plan_s, "none told")
    for stage, bar_s in (("extra lifts", bars.lifts_s), ("walking_mm", bars.walking_s)):
        yield _timed(f"{stage} proven", seen.proven(stage), bar_s, _open(seen.stage(stage)))
    breaks = seen.stage("breaks")
    shown = "no plan" if breaks is None else f"{breaks.value}, bound {breaks.bound}"
    yield ("breaks", shown, "", "")
    if bars.all_s is not None:
        proven = seen.plan is not None and seen.plan.status == "optimal"
        yield _timed("all stages proven", seen.ended_s if proven else None, bars.all_s, "not proven")
    yield ("the search ended", f"{seen.ended_s:.1f} s of {seen.limit_s:g}", "", "")
    if seen.peak_mib is None:
        yield ("peak memory", "n/a", f"< {MEMORY_MIB} MiB", "")
    else:
        met = seen.peak_mib < MEMORY_MIB
        yield ("peak memory", f"{seen.peak_mib:.0f} MiB", f"< {MEMORY_MIB} MiB", _verdict(met))


def _process_rows(starts: int) -> Iterator[Row]:
    for arguments, bar_s in PROCESS_BARS.items():
        spent_s = []
        for _ in range(starts):
            began_s = time.perf_counter()
            subprocess.run([sys.executable, "-m", "packseq", *arguments], check=True, capture_output=True)
            spent_s.append(time.perf_counter() - began_s)
        name = f"packseq {arguments[0]}, middle of {starts} starts"
        yield _timed(name, statistics.median(spent_s), bar_s)


@cache
def _reached(job: Job, limit_s: float) -> Reach:
    return alone(reach, job, limit_s)


def reach_table(limits: Limits) -> Table:
    """Measure the demos, the large house and the processes against their bars."""
    table = empty_table("1. Reach", "what", "seen", "bar", "verdict")
    for job in (*DEMOS, LARGE):
        seen = _reached(job, limits.reach_s)
        table.add_row(f"[bold]{job.name}[/] ({seen.frames} frames)")
        for row in _reach_rows(seen):
            table.add_row(*row)
    table.add_row("[bold]whole processes[/]")
    for row in _process_rows(limits.starts):
        table.add_row(*row)
    return table


def growth_table(limits: Limits) -> Table:
    """Plan generated houses of growing size."""
    columns = (
        "frames",
        "packs",
        "first plan",
        "first searched",
        "lifts proven",
        "walking proven, or as left",
    )
    table = empty_table(f"3. Growth, limit {limits.growth_s:g} s", *columns, "peak MiB")
    for frames in limits.growth:
        job = Job(f"{frames} frames", frames, max(3, math.ceil(frames / 22)))
        seen = _reached(job, limits.growth_s)
        searched = "none told" if seen.first_searched_s is None else f"{seen.first_searched_s:.1f} s"
        table.add_row(
            f"{seen.frames}",
            f"{job.packs}",
            f"{seen.crews_s:.2f} s",
            searched,
            *(str(seen.proven(stage) or _open(seen.stage(stage))) for stage in ("extra lifts", "walking_mm")),
            "n/a" if seen.peak_mib is None else f"{seen.peak_mib:.0f}",
        )
    return table


def _crews(limits: Limits) -> Table:
    return crews_table([_reached(job, limits.reach_s) for job in (*DEMOS, LARGE)])


def _contests(limits: Limits) -> Table:
    return contest_table([_reached(job, limits.reach_s) for job in limits.baselines], limits.model_s)


def _routings(limits: Limits) -> Table:
    return routing_table([_reached(job, limits.reach_s) for job in limits.baselines], limits.routing_s)


PARTS: dict[str, tuple[Callable[[Limits], Table], ...]] = {
    "reach": (reach_table,),
    "baselines": (_crews, _contests, _routings),
    "growth": (growth_table,),
}


def _load() -> str:
    if sys.platform == "win32":
        return "load n/a"
    return "load " + " ".join(f"{load:.2f}" for load in os.getloadavg())


def main() -> None:
    """Measure the parts asked for and print their tables."""
    parser = argparse.ArgumentParser(description="How far the stand-up search gets, and how fast.")
    parser.add_argument("--quick", action="store_true", help="small limits: about two minutes in all")
    parser.add_argument("--part", choices=PARTS, help="only one part")
    asked = parser.parse_args()
    if sys.platform == "linux":
        os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:2])
    console = Console(width=130)
    for name, measures in PARTS.items():
        if asked.part in {None, name}:
            for measure in measures:
                before = _load()
                console.print(measure(QUICK if asked.quick else FULL))
                console.print(f"{before} before, {_load()} after (1, 5, 15 minutes)\n")


if __name__ == "__main__":
    main()
