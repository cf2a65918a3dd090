"""How long the parts of a lift take: the ``[time]`` table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TimeRates:
    """The rates that an estimate of the day rests on (docs/time.md, with the source of each default).

    Parameters
    ----------
    empty_m_per_s, loaded_m_per_s
        Pace of the lifting team with empty hands, and with a frame.
    lift_off_s
        Taking hold of a frame and lifting it off a pack or spot.
    stand_s
        Standing a frame up on its line and tacking it.
    set_aside_s
        Putting a frame down where it waits.
    """

    empty_m_per_s: float = 1.0
    loaded_m_per_s: float = 0.5
    lift_off_s: float = 30.0
    stand_s: float = 300.0
    set_aside_s: float = 60.0
