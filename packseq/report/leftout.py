"""What a plan from here leaves out, and what that holds back, in words and as data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any

from packseq.day.leftout import LeftOut
from packseq.report.words import counted, names
from packseq.scenario.model import Lap


def left_out_sentences(left: LeftOut, more: Mapping[Lap, int]) -> Iterator[str]:
    """Say what cannot be stood now and what that holds back.

    Parameters
    ----------
    left
        What is left out.
    more
        How many more frames could be stood with another lap.
    """
    for absent in left.absent:
        told = f"{absent.frame}: {absent.why}."
        if absent.holds_back:
            told += f" It holds back {counted(len(absent.holds_back), 'frame')}: {names(absent.holds_back)}."
        yield told
    alone = {name for absent in left.absent for name in absent.holds_back}
    together = [name for name in left.held_back if name not in alone]
    if together:
        yield f"Held back by several of these together: {names(together)}."
    by_rule = sorted(left.held_back.items(), key=lambda entry: entry[1].rules)
    for rules, group in groupby(by_rule, key=lambda entry: entry[1].rules):
        held = list(group)
        yield f"{names(rules)} holds back {counted(len(held), 'frame')}, such as: {held[0][1].text}."
    for lap, count in more.items():
        yield f"With --lap {lap}, {counted(count, 'more frame', 'more frames')} could be stood now."


def left_out_document(left: LeftOut, more: Mapping[Lap, int]) -> dict[str, Any]:
    """Return the same as data."""
    return {
        "absent": [
            {"frame": absent.frame, "why": absent.why, "holds_back": absent.holds_back}
            for absent in left.absent
        ],
        "held_back": [
            {"frame": name, "rule": conflict.rules[0], "how": conflict.text}
            for name, conflict in left.held_back.items()
        ],
        "more_with_lap": dict(more),
    }
