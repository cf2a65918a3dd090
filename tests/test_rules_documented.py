"""Holds the names of the rules equal in the documents, the check and the model."""

from __future__ import annotations

import re
from pathlib import Path

from packseq.check.rules import RULES as CHECKED
from packseq.standup.rules import RULES as MODELLED

DOCUMENT = Path(__file__).parents[1] / "docs" / "rules.md"
CHAPTER = re.compile(r"^# (.+)$", re.MULTILINE)
RULE = re.compile(r"^## `(.+)`\n\n(\S.*)$", re.MULTILINE)


def documented(chapter: str) -> list[str]:
    """Return the rules of a chapter of docs/rules.md: headings in code marks with a sentence below."""
    _, *parts = CHAPTER.split(DOCUMENT.read_text(encoding="utf-8"))
    chapters = dict(zip(parts[::2], parts[1::2], strict=True))
    return [name for name, _ in RULE.findall(chapters[chapter])]


def test_each_checked_rule_is_documented_once() -> None:
    assert sorted(documented("Checked rules")) == sorted(CHECKED)


def test_each_checked_rule_is_in_the_model() -> None:
    assert set(MODELLED) == set(CHECKED)


def test_no_rule_is_documented_under_another_heading() -> None:
    headings = re.findall(r"^## `(.+)`", DOCUMENT.read_text(encoding="utf-8"), re.MULTILINE)
    assert headings == documented("Checked rules")


def test_each_rule_carries_its_name_in_code() -> None:
    for rules in (CHECKED, MODELLED):
        assert [function.__name__.replace("_", "-") for function in rules.values()] == list(rules)
