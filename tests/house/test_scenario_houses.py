"""The scenarios that come with the project, drawn by hand: what their notes say must be derived."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.read import read_scenario

FOLDERS = Path(__file__).parents[2] / "scenarios"


def house_of(name: str) -> House:
    return derive_house(read_scenario(FOLDERS / name))


@pytest.mark.parametrize("folder", sorted(FOLDERS.iterdir()), ids=lambda folder: folder.name)
def test_locations_left_blank_are_derived_as_the_drawing_gives_them(folder: Path) -> None:
    scenario = read_scenario(folder)
    drawn = derive_house(scenario)
    blank = {name: replace(frame, location=None) for name, frame in scenario.frames.items()}
    derived = derive_house(replace(scenario, frames=blank))
    assert derived.locations == drawn.locations
    assert [level.perimeter for level in derived.levels] == [level.perimeter for level in drawn.levels]


def test_the_garden_room_goes_round_from_its_south_wall() -> None:
    # Its note: south and north wall both 6 m, the tie goes to the smaller y; E1 to E6 anticlockwise.
    (level,) = house_of("garden-room").levels
    assert (level.reference, level.perimeter) == (("E1", "E2"), ("E1", "E2", "E3", "E4", "E5", "E6"))


def test_the_three_bedroom_house_is_measured_from_its_north_wall() -> None:
    # Its site file: the north wall, 15 m in three frames.
    house = house_of("three-bedroom")
    run = house.run_of[house.levels[0].reference[0]]
    assert (run.name, run.length_mm, len(run.frames)) == ("north wall", 15000.0, 3)


def test_the_l_shaped_house_goes_round_across_its_garage_opening() -> None:
    # Its note: E1 to E18 anticlockwise from the garage door, which lies between E18 and E1;
    # the reference wall is the north wall, 18 m in four frames.
    house = house_of("l-shaped")
    (level,) = house.levels
    first = level.perimeter.index("E1")
    assert level.perimeter[first:] + level.perimeter[:first] == tuple(f"E{number}" for number in range(1, 19))
    assert (house.runs[0].name, house.runs[0].length_mm, len(level.reference)) == ("north wall", 18000.0, 4)
    assert "E1" in house.touches["E18"]
