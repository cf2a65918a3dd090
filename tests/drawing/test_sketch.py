from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from small_house import hut

from packseq.drawing.floorplan import shown_as_entered
from packseq.drawing.sketch import plan_sketch
from packseq.house.derive import derive_house
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
DEMOS = ("garden-room", "three-bedroom", "l-shaped", "two-level")


def test_a_hut_has_four_walls_and_their_names() -> None:
    lines = plan_sketch(shown_as_entered(hut(solid=True), 1), 60)
    walls = [line.strip() for line in lines if line.strip().startswith("+-")]
    # North and south wall, from corner to corner.
    assert len(walls) == 2
    assert all(wall.startswith("+--") and wall.endswith("--+") for wall in walls)
    assert all(name in "\n".join(lines) for name in ("S1", "E1", "N1", "W1"))


@pytest.mark.parametrize("name", DEMOS)
def test_every_frame_of_a_demo_is_named_and_no_line_is_too_long(name: str) -> None:
    house = derive_house(read_scenario(SCENARIOS / name))
    for level in house.levels:
        lines = plan_sketch(shown_as_entered(house, level.level), 100)
        assert max(map(len, lines)) <= 100
        words = (
            "\n".join(lines).replace("|", " ").replace(":", " ").replace("+", " ").replace(".", " ").split()
        )
        assert set(house.level_of) - set(words) == {
            frame for frame, each in house.level_of.items() if each.level != level.level
        }


def test_wide_letters_take_two_columns() -> None:
    house = hut()
    scenario = house.scenario
    renamed = replace(scenario, packs={"井井": replace(scenario.packs["A"], name="井井")})
    lines = plan_sketch(shown_as_entered(replace(house, scenario=renamed), 1), 60)
    line = next(line for line in lines if "pack 井井" in line)
    plain = plan_sketch(shown_as_entered(house, 1), 60)[lines.index(line)]
    # The wall or outline to the right of the name stays where it was: 2 letters, 2 columns more.
    assert len(line.rstrip()) + 2 == len(plain.rstrip())
