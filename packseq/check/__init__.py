"""The independent replay: rules and cost of any plan. Never imports the solver."""

from packseq.check.replay import Replay, replay
from packseq.check.setting import routes_for
from packseq.check.violation import PLAN_FILE, Violation

__all__ = ["PLAN_FILE", "Replay", "Violation", "replay", "routes_for"]
