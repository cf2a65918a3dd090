"""Readings against a tolerance set: pass, fix or re-check, the worst first."""

from __future__ import annotations

import math
from collections.abc import Iterable

from packseq.geometry import whole_mm
from packseq.sitework.readings.model import VERDICTS, Judged, Reading, Verdict
from packseq.sitework.readings.tolerances import Limit, ToleranceSet


def judged(readings: Iterable[Reading], limits: ToleranceSet) -> tuple[Judged, ...]:
    """Return every reading with its verdict: what to fix first, the worst by its limit foremost.

    A value passes when it is within its limit even if the reading is off by all that it may be, and is to be
    fixed when it is past the limit even so. In between the reading cannot tell: it is to be
    re-checked (guard bands on both sides, as in JCGM 106:2012, from memory).
    """
    found = [_judged(reading, limits.limits.get(reading.task.check)) for reading in readings]
    return tuple(sorted(found, key=_worst_first))


def _judged(reading: Reading, limit: Limit | None) -> Judged:
    off_mm = abs(reading.off_mm)
    if limit is None:
        return Judged(reading, None, "no limit", _to_do(reading))
    allowed_mm = limit.allowed_mm(reading.task.length_mm)
    sure_mm = reading.task.give_or_take_mm
    verdict: Verdict = "re-check"
    if off_mm <= allowed_mm - sure_mm:
        verdict = "pass"
    elif off_mm > allowed_mm + sure_mm:
        verdict = "fix"
    return Judged(reading, allowed_mm, verdict, "" if verdict == "pass" else _to_do(reading))


def _to_do(reading: Reading) -> str:
    """Return what to do about a reading; nothing where it is off by less than half a millimetre."""
    size_mm = whole_mm(abs(reading.off_mm))
    if size_mm == 0:
        return ""
    wanted = reading.task.if_more if reading.off_mm > 0 else reading.task.if_less
    return wanted.format(mm=size_mm)


def _worst_first(each: Judged) -> tuple[int, float, int]:
    share = abs(each.reading.off_mm) / each.allowed_mm if each.allowed_mm else math.inf
    return (VERDICTS.index(each.verdict), -share, each.reading.row)
