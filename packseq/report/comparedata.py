"""The comparison as plain data, for ``--json``: lengths in mm, times in seconds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from packseq.check.blame import blamed
from packseq.check.timing import estimate
from packseq.compare.advice import advice
from packseq.compare.outcome import Outcome
from packseq.compare.trying import Comparison
from packseq.house.model import House
from packseq.report.cautions import CAUTIONS
from packseq.report.daytime import LEFT_OUT, rates_sentence
from packseq.report.plandata import cost_document

Document = dict[str, Any]


def comparison_document(
    house: House, comparison: Comparison, unplanned: Sequence[Outcome], *, stopped: bool
) -> Document:
    """Return every row, the advice, and what the extra lifts of the job as it is come from."""
    rates = house.scenario.rates
    own = comparison.own.done
    return {
        "scenario": house.scenario.name,
        "advice": advice(comparison.rows),
        "rows": [_row(row) for row in comparison.rows],
        "unplanned": [_row(row) for row in unplanned],
        "places_left_out": comparison.places_left_out,
        "stopped": stopped,
        "extra_lifts": None if own is None else [asdict(blame) for blame in blamed(own)],
        "rates": asdict(rates),
        "assumptions": [rates_sentence(rates), LEFT_OUT],
        "cautions": CAUTIONS,
    }


def _row(row: Outcome) -> Document:
    change, done = row.change, row.done
    return {
        "name": row.name,
        "change": None if change is None else {"what": change.what, "value": change.value},
        "ending": row.ending,
        "cost": None if done is None else cost_document(done),
        "estimate_s": None if done is None else round(estimate(done).total_s),
        "direction": None if done is None else done.plan.direction,
        "held_open": None if done is None else done.held_open,
        "places": None if done is None else done.plan.places,
        "stages": [stage.model_dump() for stage in row.stages],
        "proven": row.proven,
        "found_for": row.found_for,
        "conflicts": [{"rules": each.rules, "text": each.text} for each in row.conflicts],
        "reason": row.reason,
    }
