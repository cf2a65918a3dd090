"""How the estimate of a day's time is told: always as an estimate, with what it rests on."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from packseq.check.timing import DayTime
from packseq.scenario.rates import TimeRates

LEFT_OUT = (
    "Left out: opening packs, bracing beyond the tack, plumbing, fixing, waiting, rest and weather. A day on "
    "site is longer."
)
"""What no rate speaks of."""

_MINUTE_S, _HOUR_MIN = 60, 60


def duration(seconds: float) -> str:
    """Return a length of time to the minute: ``52 min``, ``3 h 05 min``."""
    hours, minutes = divmod(round(seconds / _MINUTE_S), _HOUR_MIN)
    return f"{hours} h {minutes:02} min" if hours else f"{minutes} min"


def clock(seconds: float) -> str:
    """Return hours and minutes since the first lift: ``0:52``."""
    hours, minutes = divmod(round(seconds / _MINUTE_S), _HOUR_MIN)
    return f"{hours}:{minutes:02}"


def rates_sentence(rates: TimeRates) -> str:
    """Return the rates that every time shown rests on."""
    return (
        f"Times are estimates, no promise: one lift after another, {rates.empty_m_per_s:g} m a second "
        f"empty-handed and {rates.loaded_m_per_s:g} with a frame, {_each(rates.lift_off_s)} to lift a frame "
        f"off, {_each(rates.stand_s)} to stand and tack it, {_each(rates.set_aside_s)} to set one aside "
        "([time] in site.toml)."
    )


def time_sentences(day: DayTime) -> tuple[str, ...]:
    """Return how long a plan may take, and what that rests on."""
    total = f"Time: about {duration(day.total_s)} from the first pick-up until the last frame is tacked."
    return (total, rates_sentence(day.rates), LEFT_OUT)


def time_document(day: DayTime) -> dict[str, Any]:
    """Return the estimate as plain data, in whole seconds."""
    return {
        "estimate_s": round(day.total_s),
        "rates": asdict(day.rates),
        "moves": [
            {
                "n": number,
                "empty_s": round(move.empty_s),
                "lift_off_s": round(move.lift_off_s),
                "loaded_s": round(move.loaded_s),
                "put_down_s": round(move.put_down_s),
                "ends_s": round(move.ends_s),
            }
            for number, move in enumerate(day.moves, 1)
        ],
        "assumptions": [rates_sentence(day.rates), LEFT_OUT],
    }


def _each(seconds: float) -> str:
    if seconds and seconds % _MINUTE_S == 0:
        return f"{seconds / _MINUTE_S:.0f} min"
    return f"{seconds:g} s"
