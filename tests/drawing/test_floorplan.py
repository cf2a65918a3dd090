from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations
from math import dist
from pathlib import Path
from types import MappingProxyType

import pytest
from small_house import steps
from svg_reading import corners, every, parsed, texts

from packseq.drawing.canvas import View
from packseq.drawing.floorplan import Shown, plan_drawing, plan_labels, plan_view, shown_as_entered
from packseq.drawing.floorplan import shown_as_planned as as_planned
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.plan.build import build_plan
from packseq.plan.model import Plan
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
DEMOS = ("garden-room", "three-bedroom", "l-shaped", "two-level", "tight-site")
BY_HAND = "N2>S1 E5>S2 E4>S2 E2 E1 N1>S1 E6 E5 E4 N1 N2 E3"


def demo(name: str) -> House:
    return derive_house(read_scenario(SCENARIOS / name))


def planned(house: House, text: str) -> Plan:
    scenario = house.scenario
    places = {name: pack.places[0] for name, pack in scenario.packs.items()}
    return build_plan(house, steps(text), spots=scenario.spots, places=places)


def in_file_order(house: House) -> Plan:
    """Return a plan that stands the frames as they come in the file: it need not keep any rule."""
    return planned(house, " ".join(house.scenario.frames))


def drawn(house: House, level: int, plan: Plan | None = None) -> ET.Element:
    return parsed(plan_drawing(house, level, plan).svg())


def every_picture() -> list[tuple[str, Shown]]:
    pictures = []
    for name in DEMOS:
        house = demo(name)
        plan = in_file_order(house)
        for level in house.levels:
            pictures.append((f"{name} {level.level} as entered", shown_as_entered(house, level.level)))
            pictures.append((f"{name} {level.level} as planned", as_planned(house, plan, level.level)))
    return pictures


PICTURES = every_picture()


@pytest.mark.parametrize("shown", [each for _, each in PICTURES], ids=[name for name, _ in PICTURES])
def test_no_two_labels_overlap_and_none_leaves_the_paper(shown: Shown) -> None:
    view = plan_view(shown)
    labels = plan_labels(shown, view)
    overlapping = [
        (one.choice.lines, other.choice.lines)
        for one, other in combinations(labels, 2)
        if one.box.overlaps(other.box)
    ]
    assert not overlapping
    assert all(view.paper.holds(label.box) for label in labels)


@pytest.mark.parametrize("name", DEMOS)
def test_every_frame_of_a_level_is_drawn_to_scale_and_named(name: str) -> None:
    house = demo(name)
    for level in house.levels:
        shown = shown_as_entered(house, level.level)
        view = plan_view(shown)
        root = drawn(house, level.level)
        walls = {
            group.get("data-frame"): corners(group[0])
            for group in every(root, "g")
            if group.get("class") == "frame"
        }
        expected = {
            frame.name: frame for frame in house.scenario.frames.values() if frame.level == level.level
        }
        assert set(walls) == set(expected)
        for frame_name, wall in walls.items():
            frame = expected[frame_name or ""]
            # Corners are told to 0.01 mm of paper, so a length may be out by 0.02 mm of it.
            close = pytest.approx(frame.length_mm, abs=0.02 * view.one_to)
            assert dist(wall[0], wall[1]) * view.one_to == close
        assert set(expected) <= {text.split()[0] for text in texts(root)}


def test_a_plan_shows_stand_numbers_and_the_lap() -> None:
    house = demo("garden-room")
    said = texts(drawn(house, 1, planned(house, BY_HAND)))
    # E2 is stood first, E3 last of the eight.
    at = said.index("1")
    assert said[at + 1] == "E2"
    assert said[said.index("8") + 1] == "E3"
    assert "reference wall first, then clockwise" in said
    assert not any("As entered" in text for text in said)


def test_each_level_is_measured_over_its_own_outside_faces() -> None:
    house = demo("two-level")
    # The upper floor stands on the east 9000 of the 10800 wide slab.
    assert {"10800", "7200"} <= set(texts(drawn(house, 1)))
    upper = texts(drawn(house, 2))
    assert {"9000", "7200"} <= set(upper)
    assert "10800" not in upper


def test_a_plan_as_entered_shows_lengths_and_the_size_of_the_house() -> None:
    said = texts(drawn(demo("garden-room"), 1))
    assert {"6000", "4180", "reference wall", "pack A", "spot S1", "spot S2", "N"} <= set(said)
    assert said[said.index("N2") + 1] == "1800"


def test_each_place_that_a_pack_may_take_is_drawn() -> None:
    house = demo("garden-room")
    pack = house.scenario.packs["A"]
    first = pack.places[0]
    two = replace(pack, places=(first, replace(first, at=(3000.0, 7000.0))))
    scenario = replace(house.scenario, packs=MappingProxyType({"A": two}))
    said = texts(drawn(replace(house, scenario=scenario), 1))
    assert {"pack A, place 1 of 2", "pack A, place 2 of 2"} <= set(said)


def test_an_opening_is_where_the_table_says() -> None:
    house = demo("garden-room")
    view: View = plan_view(shown_as_entered(house, 1))
    root = drawn(house, 1)
    frame = next(group for group in every(root, "g") if group.get("data-frame") == "E1")
    hole = corners(frame[1][0])
    # E1 runs east from x 0; its door begins 600 from there and is 2000 wide: 600 to 2600.
    assert [x for x, _ in hole[:2]] == pytest.approx([view.on((600, 0))[0], view.on((2600, 0))[0]], abs=0.01)


def test_hostile_names_stay_text() -> None:
    house = demo("garden-room")
    name = "<img src=x onerror=1"
    renamed = replace(house.scenario.packs["A"], name=name)
    scenario = replace(house.scenario, packs=MappingProxyType({name: renamed}), name="</svg><script>")
    root = drawn(replace(house, scenario=scenario), 1)
    assert f"pack {name}" in texts(root)
    assert "</svg><script>" in texts(root)
    assert not [each for each in root.iter() if each.tag.endswith(("script", "img"))]
