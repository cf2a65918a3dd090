"""frames.csv to layout.csv and back: the same frames, in tables or in a workbook."""

from __future__ import annotations

import math
import random
from pathlib import Path

import pytest
from shapely import Polygon

from packseq.entry.conversion import converted
from packseq.entry.extent import enclosed_mm2, extents
from packseq.entry.walkback import walk_back
from packseq.house.derive import derive_house
from packseq.house.model import House
from packseq.scenario.read import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
DEMOS = ("garden-room", "l-shaped", "three-bedroom", "two-level")


def house_of(folder: Path) -> House:
    return derive_house(read_scenario(folder))


def written(files: object, folder: Path) -> Path:
    assert isinstance(files, dict)
    folder.mkdir()
    for name, content in files.items():
        (folder / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def same(one: House, other: House) -> bool:
    """Tell whether two houses have the same frames, end for end to 0.001 mm, in the same layers."""
    frames = one.scenario.frames
    return (
        list(frames) == list(other.scenario.frames)
        and all(
            math.dist(frame.start, frames[name].start) < 0.001
            and math.dist(frame.end, frames[name].end) < 0.001
            and frame.openings == frames[name].openings
            and (frame.mass_is_estimate or frame.mass_kg == frames[name].mass_kg)
            and frame.mass_is_estimate == frames[name].mass_is_estimate
            and frame.location == frames[name].location
            and frame.level == frames[name].level
            for name, frame in other.scenario.frames.items()
        )
        and [pack.layers for pack in one.scenario.packs.values()]
        == [pack.layers for pack in other.scenario.packs.values()]
    )


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("workbook", [False, True])
def test_a_demo_goes_round_by_layout(demo: str, workbook: bool, tmp_path: Path) -> None:
    folder = SCENARIOS / demo
    house = house_of(folder)
    walked = converted(folder, house, "layout", workbook=workbook)
    again = house_of(written(walked.files, tmp_path / "walked"))
    assert same(house, again)
    back = converted(tmp_path / "walked", again, "frames", workbook=workbook)
    assert same(house, house_of(written(back.files, tmp_path / "back")))


@pytest.mark.parametrize(
    ("demo", "by_coordinates"),
    [
        ("garden-room", ()),
        # Frames whose end 1 touches nothing, or only a frame that itself starts at them.
        ("three-bedroom", ("N1", "N20", "N23")),
        ("l-shaped", ("N12", "N14", "N33")),
        # The upper level begins somewhere.
        ("two-level", ("N5", "N11", "UE1")),
    ],
)
def test_few_frames_of_the_demos_need_coordinates(demo: str, by_coordinates: tuple[str, ...]) -> None:
    assert walk_back(house_of(SCENARIOS / demo)).by_coordinates == by_coordinates


def test_a_scenario_keeps_its_site_file(tmp_path: Path) -> None:
    folder = SCENARIOS / "garden-room"
    files = converted(folder, house_of(folder), "frames", workbook=False).files
    assert files["site.toml"] == (folder / "site.toml").read_text(encoding="utf-8")
    written(files, tmp_path / "copy")


@pytest.mark.parametrize("seed", range(15))
def test_a_room_at_any_angle_goes_round_by_layout(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    length_mm, width_mm = chance.randint(2000, 9000), chance.randint(2000, 9000)
    thickness_mm, inside_at_mm = chance.choice([70, 90, 140]), chance.randint(300, 1500)
    turned_deg = chance.choice([0.0, 30.0, 45.0, 90.0, chance.uniform(0, 359.9)])
    angle = math.radians(turned_deg)

    def at(x: float, y: float) -> str:
        return (
            f"{x * math.cos(angle) - y * math.sin(angle):.9f},{x * math.sin(angle) + y * math.cos(angle):.9f}"
        )

    half = thickness_mm / 2
    lines = {
        "E1": ((0, half), (length_mm, half)),
        "E2": ((length_mm - half, 2 * half), (length_mm - half, width_mm - 2 * half)),
        "E3": ((length_mm, width_mm - half), (0, width_mm - half)),
        "E4": ((half, width_mm - 2 * half), (half, 2 * half)),
        "N1": ((inside_at_mm + half, 2 * half), (inside_at_mm + half, width_mm - 2 * half)),
    }
    rows = [f"{name},{at(*ends[0])},{at(*ends[1])},2400,{thickness_mm}" for name, ends in lines.items()]
    site = (SCENARIOS / "garden-room" / "site.toml").read_text(encoding="utf-8").split("[[spot]]")[0]
    folder = written(
        {
            "site.toml": site,
            "frames.csv": "frame,x1_mm,y1_mm,x2_mm,y2_mm,height_mm,thickness_mm\n" + "\n".join(rows),
            "packs.csv": "pack,layer,frame\n" + "\n".join(f"A,1,{name}" for name in lines),
        },
        tmp_path / "drawn",
    )
    house = house_of(folder)
    walked = converted(folder, house, "layout", workbook=False)
    assert same(house, house_of(written(walked.files, tmp_path / "walked")))
    # Only where it begins may have to be told by coordinates.
    assert set(walked.by_coordinates) <= {"E1"}


def test_the_extent_of_a_house_by_hand() -> None:
    (extent,) = extents(house_of(SCENARIOS / "three-bedroom"))
    # 15.0 x 8.4 m less the porch, 1.8 x 1.5 m: 126.0 - 2.7 = 123.3 m2.
    assert (extent.east_west_mm, extent.north_south_mm) == pytest.approx((15_000, 8400), abs=0.01)
    assert extent.area_m2 == pytest.approx(123.3, abs=0.001)
    assert extent.frames_round == 14
    # 2700 + 3000 + 1500 + 1800 + 1500 + 3600 + 3900 + 4110 x 2 + 5000 x 3 + 4110 x 2 = 49 440.
    assert extent.frames_round_mm == pytest.approx(49_440)


def test_the_shoelace_formula_against_a_traverse_in_print() -> None:
    # J. Mahun, Open Access Surveying Library, "49-travcomps-chap-i?start=2": adjusted coordinates
    # (north, east) A 500.000 2000.000, B 323.614 1561.426, C 526.996 1488.321, D 719.336 1686.956.
    # Shapely adds up the same ring by its own road.
    ring = ((2000.0, 500.0), (1561.426, 323.614), (1488.321, 526.996), (1686.956, 719.336))
    assert abs(enclosed_mm2(ring)) == pytest.approx(Polygon(ring).area)
    # Clockwise: A south-west to B, north to C, north-east to D, back south-east.
    assert enclosed_mm2(ring) < 0
    assert enclosed_mm2(((0, 0), (3, 0), (3, 2), (0, 2))) == 6
