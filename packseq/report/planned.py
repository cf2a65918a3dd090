"""A whole plan for people: the answer of ``packseq plan``, part by part."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import RenderableType

from packseq.check import Replay
from packseq.check.timing import estimate
from packseq.report.alternatives import Alternative
from packseq.report.cautions import CAUTIONS
from packseq.report.headline import cost_table, headline
from packseq.report.layout import bullets, section
from packseq.report.remarks import remarks
from packseq.report.schedule import schedule_of
from packseq.report.standlist import stand_list
from packseq.report.unpacking import unpacking_lists
from packseq.report.waiting import waiting_lists


def planned_house(
    done: Replay, alternatives: Sequence[Alternative], *, stopped: bool
) -> tuple[RenderableType, ...]:
    """Return a plan that keeps the rules, headline first.

    Parameters
    ----------
    done
        The plan as replayed.
    alternatives
        The same job unplanned.
    stopped
        Whether somebody ended the search early.
    """
    house = done.job.house
    schedule = schedule_of(done.plan)
    return (
        headline(done, alternatives, stopped=stopped),
        cost_table(done, alternatives),
        section("Before you begin", bullets(remarks(done, schedule))),
        stand_list(house, schedule, estimate(done)),
        *unpacking_lists(house, schedule),
        *waiting_lists(house, schedule),
        section("Take care", bullets(CAUTIONS)),
    )
