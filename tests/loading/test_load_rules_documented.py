"""Holds the names of the rules of a load equal in docs/load.md, the check and the model."""

from __future__ import annotations

import re
from pathlib import Path

from packseq.check.loading import RULES as CHECKED
from packseq.loading.rules import RULES as MODELLED

DOCUMENT = Path(__file__).parents[2] / "docs" / "load.md"
RULE = re.compile(r"^## `(.+)`\n\n(\S.*)$", re.MULTILINE)


def test_each_rule_of_a_load_is_documented_checked_and_modelled() -> None:
    documented = [name for name, _ in RULE.findall(DOCUMENT.read_text(encoding="utf-8"))]
    assert documented == list(CHECKED) == list(MODELLED)


def test_each_rule_of_a_load_carries_its_name_in_code() -> None:
    for rules in (CHECKED, MODELLED):
        assert [function.__name__.replace("_", "-") for function in rules.values()] == list(rules)
