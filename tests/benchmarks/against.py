"""The plan beside simpler ways to the same end, each told with what it can and cannot express."""

from __future__ import annotations

from collections.abc import Sequence

from plain_circuit import Contest, Curve, contest
from reach import Job, Reach, alone
from rich.table import Table
from routing import Routed, routed
from showing import empty_table, gap, ratio

from packseq.plan.model import LapDirection, Plan


def crews_table(reaches: Sequence[Reach]) -> Table:
    """Set the unplanned crews beside the plan."""
    table = empty_table(
        "2a. Unplanned crews",
        *("house", "who", "extra lifts", "ratio", "walking m", "ratio"),
        caption="The crews keep every rule, look one frame ahead, prove nothing.",
    )
    for seen in reaches:
        plan = seen.cost
        if plan is None:
            table.add_row(seen.job.name, "no plan")
            continue
        for name, cost in {**seen.crews, "plan": plan}.items():
            if cost is None:
                table.add_row(seen.job.name, name, "stuck")
                continue
            table.add_row(
                seen.job.name,
                name,
                f"{cost.extra_lifts}",
                ratio(cost.extra_lifts, plan.extra_lifts),
                f"{cost.walking_mm / 1000:,.0f}",
                ratio(cost.walking_mm, plan.walking_mm),
            )
    return table


def contest_table(reaches: Sequence[Reach], limit_s: float) -> Table:
    """Set the plain circuit model beside the search's own."""
    table = empty_table(
        f"2b. Plain circuit, each {limit_s:g} s",
        *("house", "model", "value mm", "bound mm", "gap", "to the same bound"),
        caption=(
            "Both models: one search, the same first plan, rules, narrowing and extra lifts held. The plain"
            " circuit can express the same plans; it lacks the literals of the transport problem. Each leg is"
            " walked past what surely stands by then, so that both lie under what plans truly walk."
            " The same bound: the weaker of the two at the end."
        ),
    )
    for seen in reaches:
        if seen.plan is None or seen.plan.direction is None:
            table.add_row(seen.job.name, "no plan")
            continue
        done = alone(_contest, seen.job, seen.plan.direction, limit_s)
        same = min(done.search.bound, done.plain.bound)
        house = f"{seen.job.name}, {done.direction}"
        for name, curve in (("chain of moves", done.search), ("plain circuit", done.plain)):
            table.add_row(house, name, *_curve_cells(curve, same))
        if done.search.value and done.plain.value:
            table.add_row(house, "ratio of values", ratio(done.plain.value, done.search.value))
    return table


def _contest(job: Job, direction: LapDirection, limit_s: float) -> Contest:
    return contest(job.house(), direction, limit_s)


def _curve_cells(curve: Curve, same: int) -> tuple[str, ...]:
    value = "none" if curve.value is None else f"{curve.value:,}"
    to_same = curve.seconds_to_bound(same)
    seconds = "-" if to_same is None else f"{to_same:.1f} s"
    return (value, f"{curve.bound:,}", gap(curve.value, curve.bound), seconds)


def routing_table(reaches: Sequence[Reach], limit_s: float) -> Table:
    """Set the routing solver's order of the plan's own moves beside the plan."""
    table = empty_table(
        f"2c. Routing solver, {limit_s:g} s",
        *("house", "plan walks mm", "which is", "routing mm", "ratio", "last plan at", "rules broken"),
        caption=(
            "It is given the plan's choice of who waits where, and its order on each spot: these it cannot"
            " choose, nor can it prove a bound. It can express the order of moves, what is before what, and"
            " joined."
        ),
    )
    for seen in reaches:
        walking = seen.stage("walking_mm")
        if seen.plan is None or walking is None:
            table.add_row(seen.job.name, "no plan")
            continue
        done = alone(_routed, seen.job, seen.plan, limit_s)
        name = seen.job.name
        table.add_row(name, f"{walking.value:,}", walking.status, *_routed_cells(done, walking.value))
    return table


def _routed(job: Job, plan: Plan, limit_s: float) -> Routed:
    return routed(job.house(), plan, limit_s)


def _routed_cells(done: Routed, plan_mm: int) -> tuple[str, ...]:
    if done.walking_mm is None:
        return ("no order found", "-", "-", "-")
    last = "-" if done.found_s is None else f"{done.found_s:.1f} s"
    return (f"{done.walking_mm:,}", ratio(done.walking_mm, plan_mm), last, f"{done.violations}")
