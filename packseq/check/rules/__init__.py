"""The rules, one function each under the name that docs/rules.md gives it.

A rule looks at one lift and yields, in trade words, everything that is wrong with it.
"""

from packseq.check.rules.registry import ORDER_RULES, RULES, Rule, broken_rules

__all__ = ["ORDER_RULES", "RULES", "Rule", "broken_rules"]
