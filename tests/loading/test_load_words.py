"""The sentences of the loading sheet, word by word."""

from __future__ import annotations

from dataclasses import replace

import pytest
from load_houses import pack, six

from packseq.loading.assemble import Arranged
from packseq.loading.best import BestLoad, best_of_all, stages_of
from packseq.loading.easing import LimitCost
from packseq.loading.judge import judge
from packseq.loading.search import LoadSearch
from packseq.loading.sheet import load_sheet
from packseq.loading.words import limit_words, promise
from packseq.scenario.loadlimits import LoadLimits
from packseq.sheet import Words
from packseq.standup.solver import Clock, Solver


def load_of(lifts: tuple[int, int], packs: tuple[int, int]) -> BestLoad:
    """Return a load of six frames, told to have so many extra lifts and packs, each with its bound."""
    search = LoadSearch(six(limits=LoadLimits(overhang_mm=2000.0)), Solver(Clock(5.0)), 5.0)
    job = search.jobs[1]
    laid = Arranged((pack("A", "S1 S2 E1 N1 N2 W1"),), ("S1", "S2", "E1", "N1", "N2", "W1"))
    best = best_of_all(judge(job, laid, search.standing[job.direction].routes), (0, 0, 0))
    values, bounds = (lifts[0], packs[0], 90_000), (lifts[1], packs[1], 60_400)
    return replace(best, stages=stages_of(values, bounds))


@pytest.mark.parametrize(
    ("lifts", "packs", "first", "second"),
    [
        (
            (0, 0),
            (3, 3),
            "No frame is lifted twice on site: the packs come off in stand order.",
            "3 packs. Proven: without extra lifts no load has fewer.",
        ),
        (
            (1, 1),
            (1, 1),
            "1 extra lift on site. Proven: no load has fewer.",
            "1 pack.",
        ),
        (
            (2, 1),
            (3, 2),
            "2 extra lifts on site. Perhaps fewer would do, but not fewer than 1: that is proven.",
            "3 packs. Perhaps fewer would do, but with so few extra lifts not fewer than 2: that is proven.",
        ),
        (
            (2, 0),
            (2, 2),
            "2 extra lifts on site. Perhaps fewer would do, or none: nothing is proven.",
            "2 packs. Proven: with so few extra lifts no load has fewer.",
        ),
    ],
)
def test_what_a_load_promises(
    lifts: tuple[int, int], packs: tuple[int, int], first: str, second: str
) -> None:
    walking = "Standing the house takes 90 m of walking; no load of so few packs takes less than 60 m."
    assert promise(load_of(lifts, packs)) == (first, second, walking)


@pytest.mark.parametrize(
    ("cost", "said"),
    [
        (
            LimitCost("most_kg", 1500.0, 1650.0, 2, 0, nearest=True),
            "A 1,500 kg limit costs 2 extra lifts; at 1,650 kg none.",
        ),
        (
            LimitCost("most_layers", 1.0, 2.0, 2, 1, nearest=False),
            "A limit of 1 layer costs 1 extra lift; with 2 layers still 1 (perhaps less would do).",
        ),
        (
            LimitCost("most_height_mm", 900.0, 1000.0, 2, 0, nearest=True),
            "A height of at most 900 mm costs 2 extra lifts; at 1,000 mm none.",
        ),
        (
            LimitCost("overhang_mm", 300.0, 1100.0, 3, 0, nearest=True),
            "An overhang of at most 300 mm costs 3 extra lifts; at 1,100 mm none.",
        ),
        (
            LimitCost("most_packs", 1.0, 2.0, 3, 0, nearest=True),
            "A limit of 1 pack costs 3 extra lifts; with 2 packs none.",
        ),
        (
            LimitCost("landing places", 1.0, 2.0, 3, 1, nearest=True),
            "Having only 1 landing place costs 2 extra lifts; with 2 landing places still 1.",
        ),
        (
            LimitCost("deck", None, None, 1, 0, nearest=False),
            "That the packs come off these decks in the order wanted costs 1 extra lift; without it none.",
        ),
        (
            LimitCost("balance_mm", None, None, 4, 2, nearest=False),
            "The limit on balance costs 2 extra lifts; without it still 2.",
        ),
    ],
)
def test_what_a_limit_costs_in_words(cost: LimitCost, said: str) -> None:
    assert list(limit_words((cost,), cost.lifts_with)) == [said]


def test_no_limit_alone_saves_anything() -> None:
    assert list(limit_words((), 0)) == []
    (said,) = limit_words((), 2)
    assert said == "No single limit was found that would save an extra lift if it alone were wider."


def test_a_stopped_search_is_told_on_the_sheet() -> None:
    best = load_of((2, 0), (1, 1))
    told = {}
    for stopped in (True, False):
        words = load_sheet(best, stopped=stopped).sections[0].parts[0]
        assert isinstance(words, Words)
        told[stopped] = words.paragraphs[-1]
    assert told[True] == "The search was stopped: this is the best load found by then, and it is checked."
    assert told[False] == "No single limit was found that would save an extra lift if it alone were wider."
