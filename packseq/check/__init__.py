"""The independent replay: rules and cost of any plan. Never imports the solver."""

from packseq.check.replay import Replay, replay
from packseq.check.violation import PLAN_FILE, Violation

__all__ = ["PLAN_FILE", "Replay", "Violation", "replay"]
