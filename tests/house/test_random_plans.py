"""Outside checks: random plans whose answers are known, and shapely and networkx used another way."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st
from plans import Column, Plan, build
from shapely import Point, Polygon
from sketch import faults_of, jumbled, scenario_of

from packseq.house.derive import derive_house
from packseq.house.model import House


@st.composite
def columns(draw: st.DrawFn) -> list[Column]:
    """Bottom and top of each column in cells; each shares at least a cell's height with the one before."""
    bottom = draw(st.integers(0, 3))
    found = [(bottom, draw(st.integers(bottom + 1, 4)))]
    for _ in range(draw(st.integers(0, 4))):
        bottom = draw(st.integers(0, found[-1][1] - 1))
        found.append((bottom, draw(st.integers(max(bottom, found[-1][0]) + 1, 4))))
    return found


any_plan = st.builds(build, columns(), st.sets(st.integers(0, 4)), st.integers(0, 10**6))
quick = settings(max_examples=25, deadline=None)


def house_of(plan: Plan) -> House:
    return derive_house(scenario_of(plan.frames))


def rotations(ring: tuple[str, ...]) -> list[tuple[str, ...]]:
    return [ring[place:] + ring[:place] for place in range(len(ring))]


@quick
@given(any_plan)
def test_the_perimeter_is_the_one_the_plan_was_built_with(plan: Plan) -> None:
    house = house_of(plan)
    (level,) = house.levels
    assert level.closed
    assert level.perimeter in rotations(plan.perimeter)
    assert {name for name, place in house.locations.items() if place == "external"} == set(plan.perimeter)


@quick
@given(any_plan)
def test_frames_touch_exactly_where_shapely_measures_no_more_than_30_mm(plan: Plan) -> None:
    shapes = {frame.name: Polygon(frame.footprint) for frame in plan.frames}
    near = {
        pair for pair in combinations(sorted(shapes), 2) if shapes[pair[0]].distance(shapes[pair[1]]) <= 30
    }
    assert {join.frames for join in house_of(plan).joins} == near


@quick
@given(any_plan)
def test_every_join_lies_between_its_two_frames(plan: Plan) -> None:
    shapes = {frame.name: Polygon(frame.footprint) for frame in plan.frames}
    for join in house_of(plan).joins:
        # These plans have no gaps, so a join's centre lies on both frames, rounded to 0.1 mm.
        assert all(shapes[name].distance(Point(join.at)) <= 0.1 for name in join.frames)


@quick
@given(any_plan)
def test_the_external_frames_hold_one_cycle_and_it_is_the_perimeter(plan: Plan) -> None:
    house = house_of(plan)
    graph = nx.Graph([join.frames for join in house.joins if set(join.frames) <= set(plan.perimeter)])
    (cycle,) = nx.cycle_basis(graph)
    perimeter = house.levels[0].perimeter
    assert set(cycle) == set(perimeter)
    assert tuple(cycle) in rotations(perimeter) + rotations(perimeter[::-1])


@quick
@given(any_plan)
def test_runs_are_the_walls_of_the_plan_and_the_longest_is_the_reference(plan: Plan) -> None:
    house = house_of(plan)
    external = [run for run in house.runs if run.location == "external"]
    assert {run.frames for run in external} == set(plan.walls)
    frames = house.scenario.frames

    def rank(wall: tuple[str, ...]) -> tuple[float, float, float]:
        ends = [point for name in wall for point in (frames[name].start, frames[name].end)]
        first, last = max(combinations(ends, 2), key=lambda pair: math.dist(*pair))
        return -round(math.dist(first, last)), (first[1] + last[1]) / 2, (first[0] + last[0]) / 2

    assert house.levels[0].reference == min(plan.walls, key=rank)
    assert house.levels[0].perimeter[: len(house.levels[0].reference)] == house.levels[0].reference


@quick
@given(any_plan, st.integers(0, 10**6))
def test_order_in_the_file_and_ends_swapped_make_no_difference(plan: Plan, seed: int) -> None:
    plain = house_of(plan)
    mixed = derive_house(jumbled(plain.scenario, seed))
    for part in ("locations", "joins", "runs", "levels", "touches"):
        assert getattr(mixed, part) == getattr(plain, part)


@quick
@given(any_plan)
def test_a_frame_taken_out_of_the_perimeter_is_missed_at_both_its_neighbours(plan: Plan) -> None:
    gone = plan.perimeter[0]
    left = [frame for frame in plan.frames if frame.name != gone]
    located = [
        replace(frame, location="external" if frame.name in plan.perimeter else "internal") for frame in left
    ]
    found = {fault.frame for fault in faults_of(scenario_of(located)) if "open here" in fault.text}
    assert found == {plan.perimeter[1], plan.perimeter[-1]}


PRINT_HOUSE = """
from plans import build
from sketch import faults_of, jumbled, scenario_of
from packseq.house.derive import derive_house
house = derive_house(scenario_of(build([(0, 2), (1, 4), (0, 3)], {0, 2}, 7).frames))
print(dict(house.locations), house.joins, house.runs, house.levels, dict(house.touches))
"""


def test_the_same_house_whatever_the_hash_seed() -> None:
    here = str(Path(__file__).parent)
    printed = {
        subprocess.run(
            [sys.executable, "-c", PRINT_HOUSE],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": here},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2", "3", "4")
    }
    assert len(printed) == 1
