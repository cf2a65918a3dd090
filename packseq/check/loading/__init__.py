"""The independent check of a load: every rule of docs/load.md, on packs from wherever they came."""

from packseq.check.loading.measure import MeasuredPack, measured
from packseq.check.loading.rules import RULES, LoadFault, broken_load_rules

__all__ = ["RULES", "LoadFault", "MeasuredPack", "broken_load_rules", "measured"]
