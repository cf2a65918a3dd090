"""Spots that the plan proposes where the scenario names none."""

from packseq.standup.staging.proposing import proposed_spots
from packseq.standup.staging.reasons import why_there

__all__ = ["proposed_spots", "why_there"]
