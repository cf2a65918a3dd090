"""A plan or a verdict as plain data, for ``--json``: lengths in mm."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from packseq.check import Replay
from packseq.check.timing import estimate
from packseq.plan.file import plan_json
from packseq.report.alternatives import Alternative
from packseq.report.cautions import CAUTIONS
from packseq.report.daytime import time_document
from packseq.report.remarks import remarks
from packseq.report.schedule import schedule_of

Document = dict[str, Any]


def planned_document(done: Replay, alternatives: Sequence[Alternative], *, stopped: bool) -> Document:
    """Return a plan as in its file, with its true cost and the same job unplanned."""
    return {
        "plan": json.loads(plan_json(done.plan)),
        "cost": cost_document(done),
        "time": time_document(estimate(done)),
        "stopped": stopped,
        "unplanned": [
            {
                "crew": other.how,
                "stuck": other.stuck,
                "cost": None if other.done is None else cost_document(other.done),
            }
            for other in alternatives
        ],
        "remarks": remarks(done, schedule_of(done.plan)),
        "cautions": CAUTIONS,
    }


def verdict_document(done: Replay, hint: str | None) -> Document:
    """Return the verdict on a plan."""
    return {
        "kept": done.kept,
        "violations": [
            {"move": each.move_number, "rule": each.rule, "text": each.text} for each in done.violations
        ],
        "hint": hint,
        "cost": cost_document(done),
        "held_open": done.held_open,
    }


def cost_document(done: Replay) -> Document:
    """Return what a plan truly costs."""
    cost = done.cost
    return {
        "extra_lifts": cost.extra_lifts,
        "extra_lifts_by_pack": dict(cost.extra_lifts_by_pack),
        "walking_mm": cost.walking_mm,
        "person_mm": cost.person_mm,
        "breaks": cost.breaks,
    }
