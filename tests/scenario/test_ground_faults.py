"""Packs and spots laid where they cannot be: the whole list of faults is compared."""

from __future__ import annotations

from pathlib import Path

import pytest
from square_room import SITE, write_scenario

from packseq.errors import InputError
from packseq.scenario.read import read_scenario

# Packs A (North, South: 3000 long, 2400 wide) about (1500, -3000) and B (West, East: 2820 x 2410, upright)
# about (-3000, 1500); spot S1, 3000 x 2700, about (1500, 1500).
A_AT, B_AT = "at_mm = [1500, -3000]", "at_mm = [-3000, 1500]\nbearing_deg = 90"


def area(*corners: tuple[int, int]) -> str:
    return f"\n[[no_go]]\noutline_mm = {[list(corner) for corner in corners]}\n"


def square(x: int, y: int, side: int) -> str:
    return area((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def faults_of(tmp_path: Path, site: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site}))
    assert caught.value.exit_code == 1
    return [str(fault) for fault in caught.value.faults]


def test_a_pack_on_a_no_go_area_is_named_with_the_area_and_its_size(tmp_path: Path) -> None:
    # Pack A reaches from x = 0 to 3000 and from y = -4200 to -1800.
    site = SITE + square(9000, 9000, 500) + square(2900, -1900, 500)
    assert faults_of(tmp_path, site) == [
        "site.toml, pack[1]: pack A, 3000 x 2400 mm, lies on no_go[2]: land it clear"
    ]


def test_a_pack_beside_a_no_go_area_is_no_fault(tmp_path: Path) -> None:
    read_scenario(write_scenario(tmp_path, {"site.toml": SITE + square(3000, -3000, 500)}))


def test_a_pack_with_a_place_clear_of_every_area_is_no_fault(tmp_path: Path) -> None:
    site = SITE.replace(A_AT, "places_mm = [[1500, -3000, 0], [1500, -7000, 0]]") + square(2900, -1900, 500)
    read_scenario(write_scenario(tmp_path, {"site.toml": site}))


def test_a_pack_with_every_place_on_a_no_go_area_is_named(tmp_path: Path) -> None:
    site = SITE.replace(A_AT, "places_mm = [[1500, -3000, 0], [1500, -7000, 0]]")
    site += square(2900, -1900, 500) + square(1000, -7000, 500)
    (fault,) = faults_of(tmp_path, site)
    where, told = fault.split(": ", 1)
    assert where == "site.toml, pack[1]"
    assert told.startswith("pack A, 3000 x 2400 mm, lies on no_go[1] and no_go[2] in every place given: ")


def test_a_spot_on_a_no_go_area_is_named(tmp_path: Path) -> None:
    # The spot reaches to y = 1500 + 1350 = 2850.
    site = SITE + square(1000, 2800, 500)
    assert faults_of(tmp_path, site) == [
        "site.toml, spot[1]: spot S1 lies on no_go[1], where nobody can walk: move it clear"
    ]


def test_packs_that_overlap_are_both_named(tmp_path: Path) -> None:
    # B upright is 2410 wide: from x = 1500 - 1205 on, inside A.
    site = SITE.replace(B_AT, "at_mm = [1500, -3500]\nbearing_deg = 90")
    assert faults_of(tmp_path, site) == ["site.toml, pack[2]: packs A and B overlap: land them apart"]


def test_packs_that_overlap_in_one_choice_only_are_no_fault(tmp_path: Path) -> None:
    site = SITE.replace(B_AT, "places_mm = [[1500, -3500, 90], [-3000, 1500, 90]]")
    read_scenario(write_scenario(tmp_path, {"site.toml": site}))


def test_packs_that_overlap_in_every_choice_are_named(tmp_path: Path) -> None:
    site = SITE.replace(B_AT, "places_mm = [[1500, -3500, 90], [1500, -2500, 0]]")
    assert faults_of(tmp_path, site) == [
        "site.toml, pack[2]: packs A and B overlap in every place given: give one that is clear"
    ]


def test_a_place_on_a_no_go_area_is_no_choice(tmp_path: Path) -> None:
    # B's second place is clear of A, but lies on the area.
    site = SITE.replace(B_AT, "places_mm = [[1500, -3500, 90], [-3000, 1500, 90]]") + square(-3000, 1500, 100)
    assert faults_of(tmp_path, site) == ["site.toml, pack[2]: packs A and B overlap: land them apart"]


def test_three_packs_with_two_places_between_them_cannot_all_be_landed(tmp_path: Path) -> None:
    # Each two can be landed, one here and one there; three cannot.
    both = "places_mm = [[1500, -3000, 0], [1500, -7000, 0]]"
    packs = "pack,layer,frame\nA,1,North\nB,1,West\nC,1,South\nC,2,East\n"
    third = f'\n[[pack]]\nname = "C"\n{both}\n'
    site = SITE.replace(A_AT, both).replace(B_AT, both) + third
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site, "packs.csv": packs}))
    (fault,) = caught.value.faults
    assert fault.column == "pack[3]"
    assert fault.text == "packs A, B, C cannot all be landed: two of them overlap in every choice of places"


def test_packs_and_spots_of_different_levels_do_not_overlap(tmp_path: Path) -> None:
    packs = "pack,layer,frame\nA,1,North\nA,2,South\nA,3,West\nA,4,East\nB,1,Upper\n"
    frames = (
        "frame,level,x1_mm,y1_mm,x2_mm,y2_mm,height_mm,thickness_mm,location\n"
        "South,1,0,45,3000,45,2400,90,\nEast,1,2955,90,2955,2910,2400,90,\n"
        "North,1,3000,2955,0,2955,2400,90,\nWest,1,45,2910,45,90,2400,90,\nUpper,2,0,45,3000,45,2400,90,\n"
    )
    site = SITE.replace(B_AT, "at_mm = [1500, -3000]\nlevel = 2")
    scenario = read_scenario(
        write_scenario(tmp_path, {"site.toml": site, "packs.csv": packs, "frames.csv": frames})
    )
    assert scenario.packs["A"].places == scenario.packs["B"].places


def test_every_fault_of_lying_is_told_at_once(tmp_path: Path) -> None:
    site = SITE.replace(B_AT, "at_mm = [1500, -3500]\nbearing_deg = 90") + square(1000, 2800, 500)
    assert len(faults_of(tmp_path, site)) == 2
