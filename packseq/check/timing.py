"""About how long a plan takes, at the rates of its scenario (docs/time.md)."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from packseq.check.replay import Replay
from packseq.check.walking import NOT_WALKED, Walked
from packseq.plan.model import Move
from packseq.scenario.rates import TimeRates


@dataclass(frozen=True, slots=True)
class MoveTime:
    """About how long one move takes, part by part in its order, in seconds.

    Parameters
    ----------
    empty_s
        The walk to the frame with empty hands.
    lift_off_s
        Taking hold of it and lifting it off.
    loaded_s
        The walk with the frame.
    put_down_s
        Standing and tacking it, or putting it down where it waits.
    ends_s
        The clock when the move is done: seconds since the first move began.
    """

    empty_s: float
    lift_off_s: float
    loaded_s: float
    put_down_s: float
    ends_s: float

    @property
    def seconds(self) -> float:
        """How long the move takes in all."""
        return self.empty_s + self.lift_off_s + self.loaded_s + self.put_down_s

    @property
    def begins_s(self) -> float:
        """The clock when the move begins."""
        return self.ends_s - self.seconds


@dataclass(frozen=True, slots=True)
class DayTime:
    """About how long a plan takes: the rates, and one entry for each move."""

    rates: TimeRates
    moves: tuple[MoveTime, ...]

    @property
    def total_s(self) -> float:
        """Seconds from the first pick-up until the last frame is tacked."""
        return self.moves[-1].ends_s if self.moves else 0.0


def estimate(done: Replay) -> DayTime:
    """Return about how long a plan takes: one lift after another, by one team, with nothing in between.

    A move that cannot be carried out takes no time; a leg that has no way takes none either.
    """
    rates = done.job.house.scenario.rates
    parts = [_parts(move, walked, rates) for move, walked in zip(done.plan.moves, done.walked, strict=True)]
    ends = accumulate(sum(each) for each in parts)
    return DayTime(rates, tuple(MoveTime(*each, end) for each, end in zip(parts, ends, strict=True)))


def _parts(move: Move, walked: Walked, rates: TimeRates) -> tuple[float, float, float, float]:
    if walked == NOT_WALKED:
        return (0.0, 0.0, 0.0, 0.0)
    return (
        walked.empty_mm / 1000 / rates.empty_m_per_s,
        rates.lift_off_s,
        walked.loaded_mm / 1000 / rates.loaded_m_per_s,
        rates.stand_s if move.do == "stand" else rates.set_aside_s,
    )
