"""Laying frames in arrays against whole packs, and which frame may come down next against the rules."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from load_houses import SIX, demo, six

from packseq.check.job import Job, Lift
from packseq.check.loading import broken_load_rules
from packseq.check.rules import ORDER_RULES, broken_rules
from packseq.check.state import Heap, State
from packseq.loading.fits import fits
from packseq.loading.job import LoadJob, unstacked
from packseq.loading.stacks import HOWS, Laying, empty_stacks
from packseq.loading.standing import Standing, routes_of
from packseq.plan.load import LaidLayer, LaidPack, Load
from packseq.scenario.loadlimits import LoadLimits
from packseq.scenario.model import Lap

# Low frames may lie side by side within the height of the others.
HEIGHTS = {"S2": 1200.0, "N2": 1100.0, "S1": 1300.0}


@st.composite
def _stacked(draw: st.DrawFn) -> tuple[LoadLimits, tuple[tuple[str, int], ...]]:
    limits = LoadLimits(
        most_kg=draw(st.sampled_from([200.0, 360.0])),
        most_layers=draw(st.integers(2, 6)),
        most_height_mm=draw(st.sampled_from([370.0, 640.0, 1800.0])),
        overhang_mm=draw(st.sampled_from([0.0, 250.0, 500.0, 1500.0])),
        end_to_end=draw(st.booleans()),
        side_by_side=draw(st.booleans()),
        layer_gap_mm=draw(st.sampled_from([0.0, 1.0, 50.0])),
        balance_mm=10_000.0,
    )
    order = draw(st.permutations(SIX))[: draw(st.integers(1, 6))]
    return limits, tuple((name, draw(st.integers(0, 2))) for name in order)


@settings(max_examples=150, deadline=None)
@given(_stacked())
def test_laying_one_by_one_keeps_what_the_whole_pack_keeps(
    drawn: tuple[LoadLimits, tuple[tuple[str, int], ...]],
) -> None:
    limits, steps = drawn
    job = LoadJob(six(limits=limits, heights=HEIGHTS), "clockwise", {1: 2})
    laying, stack = Laying(job), empty_stacks(1)[None]
    held = [name for name, _ in steps]
    most = tuple(
        np.array([float(max(sizes[name] for name in held))]) for sizes in (job.length_mm, job.width_mm)
    )
    layers: list[LaidLayer] = []
    laid = True
    for name, how in steps:
        below = layers[0] if layers else None
        if HOWS[how] == "new layer":
            layers.insert(0, LaidLayer((name,)))
        elif below is None or (len(below.frames) > 1 and below.side_by_side != (how == 2)):
            return  # no pack looks like that
        else:
            layers[0] = LaidLayer((*below.frames, name), how == 2)
        chosen = np.array([job.names.index(name)])
        after, allowed = laying.laid(
            stack, laying.frames(chosen), np.array([float(job.most_grams["A"])]), (most[0], most[1])
        )
        laid = laid and bool(allowed[0, 0, how])
        stack = after[:, :, how]
    pack = LaidPack("A", tuple(layers))
    assert fits(job, pack) == laid
    rest = LaidPack("B", tuple(LaidLayer((name,)) for name in SIX if name not in held))
    load = Load((pack, rest) if rest.layers else (pack,))
    told = [each for each in broken_load_rules(job.scenario, load) if "pack A" in each.text]
    assert laid == (not told)


@pytest.mark.parametrize("lap", ["one-way", "both-ways", "free"])
def test_what_comes_down_next_is_what_the_rules_let_stand_last(lap: Lap) -> None:
    job = LoadJob(six(lap=lap), "clockwise", {1: 2})
    check_taken_down(job, random.Random(1))


@pytest.mark.parametrize("name", ["garden-room", "two-level"])
def test_what_comes_down_next_in_the_demos(name: str) -> None:
    house = demo(name)
    check_taken_down(LoadJob(house, "clockwise", dict.fromkeys(house.scenario.levels, 2)), random.Random(2))


def check_taken_down(job: LoadJob, dice: random.Random) -> None:
    """Take the house down a few times by chance, and hold each answer to the rules asked in full."""
    standing = Standing(job, routes_of(job))
    house = unstacked(job.house)
    places = {name: pack.places[0] for name, pack in house.scenario.packs.items()}
    rules = Job(house, {}, places, job.direction, standing.routes)
    for _ in range(3):
        left = standing.everything
        while left:
            names = standing.last(left)
            assert names
            for name in names:
                assert keeps_order(job, rules, name, [each for each in job.names if in_set(job, left, each)])
            left = standing.without(left, dice.choice(names))


def in_set(job: LoadJob, members: int, name: str) -> bool:
    return bool(members >> job.names.index(name) & 1)


def keeps_order(job: LoadJob, rules: Job, name: str, members: list[str]) -> bool:
    before = tuple(other for other in members if other != name)
    frame = job.scenario.frames[name]
    heap = Heap("pack", next(p.name for p in rules.house.scenario.packs.values() if p.level == frame.level))
    team = job.scenario.crew.team(frame.mass_kg)
    lift = Lift(rules, State({}, {}, before, frozenset(before)), frame, heap, None, team, None)
    return next(broken_rules(lift, ORDER_RULES), None) is None
