"""The best of the plans that go on from here, beside what is left of the old one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from packseq.check import Replay, replay
from packseq.day.follow import Followed
from packseq.day.leftout import LeftOut
from packseq.day.present import Present
from packseq.house.model import House
from packseq.plan.model import Plan, StageResult
from packseq.routes.engine import Routes


@dataclass(frozen=True)
class Rest:
    """What is left of the old plan: how far it was followed, and a replay of the rest from here."""

    followed: Followed
    done: Replay


@dataclass(frozen=True)
class Replanned:
    """A plan from the present state, and all that there is to say about it.

    Parameters
    ----------
    now
        The site as it is.
    left
        What the plan leaves out.
    done
        The new plan as replayed.
    rest
        What is left of the old plan, where one was given.
    """

    now: Present
    left: LeftOut
    done: Replay
    rest: Rest | None


def best_of(house: House, plans: Iterable[Plan], routes: Routes) -> Replay | None:
    """Return the best of the plans that keep the rules: lifts, walking, breaks; the first of equals."""
    kept = [done for plan in plans if (done := replay(house, plan, routes)).kept]
    lift_worth_m = house.scenario.stand.lift_worth_m

    def worth(done: Replay) -> tuple[int, int, int]:
        if lift_worth_m > 0:
            return (0, done.cost.merged_mm(lift_worth_m), done.cost.breaks)
        return (done.cost.extra_lifts, done.cost.walking_mm, done.cost.breaks)

    return min(kept, key=worth, default=None)


def with_stages(plan: Plan, done: Replay) -> Plan:
    """Return a plan with what it costs as its stages, none of it proven."""
    if plan.stages:
        return plan
    cost = done.cost
    values = {"extra lifts": cost.extra_lifts, "walking_mm": cost.walking_mm, "breaks": cost.breaks}
    stages = tuple(
        StageResult(name=name, value=value, bound=0, status="best found") for name, value in values.items()
    )
    return plan.model_copy(update={"stages": stages})
