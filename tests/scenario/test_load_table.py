"""``[load]``, ``[[deck]]`` and landing places in site.toml."""

from __future__ import annotations

from pathlib import Path

import pytest
from square_room import SITE, SOUND_FILES, write_scenario

from packseq.errors import InputError
from packseq.scenario.loadlimits import Deck, LoadLimits
from packseq.scenario.read import read_scenario

WHOLE = """
[load]
most_kg = 900
most_layers = 8
most_height_mm = 1200
bearer_mm = 75
longest_mm = 6000
widest_mm = 2700
most_packs = 2
overhang_mm = 450.5
balance_mm = 80
end_to_end = false
side_by_side = false
layer_gap_mm = 20
together = [["south", "East"]]
apart = [["North", "West"]]

[[deck]]
name = "truck"
length_mm = 7000
most_kg = 8000
"""


def test_every_key_is_read(tmp_path: Path) -> None:
    scenario = read_scenario(write_scenario(tmp_path, {"site.toml": SITE + WHOLE}))
    assert scenario.load == LoadLimits(
        900,
        8,
        1200,
        75,
        6000,
        2700,
        2,
        450.5,
        80,
        False,
        False,
        20,
        (("South", "East"),),
        (("North", "West"),),
    )
    assert scenario.decks == (Deck("truck", 7000, 8000),)


def test_without_the_table_the_defaults_hold(tmp_path: Path) -> None:
    scenario = read_scenario(write_scenario(tmp_path))
    assert scenario.load == LoadLimits()
    assert scenario.decks == ()


def test_a_pack_without_frames_is_a_landing_place_left_empty(tmp_path: Path) -> None:
    stacks = SOUND_FILES["packs.csv"]
    assert isinstance(stacks, str)
    site = SITE.replace('name = "B"', 'name = "B"\nmost_kg = 700')
    folder = write_scenario(
        tmp_path, {"packs.csv": stacks.replace("B,1", "A,3").replace("B,2", "A,4"), "site.toml": site}
    )
    scenario = read_scenario(folder)
    assert list(scenario.packs) == ["A"]
    assert list(scenario.landings) == ["A", "B"]
    assert (scenario.landings["A"].most_kg, scenario.landings["B"].most_kg) == (None, 700)


def test_nothing_need_be_loaded_yet(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"packs.csv": None})
    scenario = read_scenario(folder, packs_needed=False)
    assert dict(scenario.packs) == {}
    assert len(scenario.frames) == 4
    with pytest.raises(InputError):
        read_scenario(folder)


def test_some_frames_left_out_are_missed_all_the_same(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"packs.csv": "pack,layer,frame\nA,1,North\n"})
    with pytest.raises(InputError) as error:
        read_scenario(folder, packs_needed=False)
    assert len(error.value.faults) == 3


@pytest.mark.parametrize(
    ("table", "expected"),
    [
        ("[load]\nmost_kg = 0", ["load.most_kg: must be more than 0, not 0"]),
        ("[load]\nmost_layers = 2.5", ["load.most_layers: must be a whole number"]),
        ("[load]\noverhang = 2", ["load.overhang: unknown key; did you mean overhang_mm?"]),
        ("[load]\nend_to_end = 1", ["load.end_to_end: must be true or false"]),
        ('[load]\ntogether = [["North"]]', ["load.together[1]: must hold at least 2"]),
        (
            '[load]\napart = [["North", "Nord"]]',
            ["load.apart[1][2]: there is no frame 'Nord'; did you mean 'North'?"],
        ),
        ('[load]\napart = [["North", "north"]]', ["load.apart[1]: names frame 'North' 2 times"]),
        (
            "[load]\nbearer_mm = 500\nmost_height_mm = 500",
            ["load: bearers 500 mm high leave no room for frames in a pack 500 mm high"],
        ),
        (
            '[load]\ntogether = [["North", "West"], ["West", "South"]]\napart = [["South", "North"]]',
            ["load: South and North must travel together and must not be in one pack"],
        ),
        (
            "[[deck]]\nname = 'd'\nlength_mm = 0\nmost_kg = 1",
            ["deck[1].length_mm: must be more than 0, not 0"],
        ),
        (
            "[[deck]]\nname='d'\nlength_mm = 1\nmost_kg = 1\n[[deck]]\nname='D'\nlength_mm = 1\nmost_kg = 1",
            ["deck[2].name: 'D' is already the name of deck[1]; name it otherwise"],
        ),
        ("[deck]\nname = 'd'", ["deck: each one is written as [[deck]], in double brackets"]),
    ],
)
def test_a_fault_in_the_table(table: str, expected: list[str], tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"site.toml": f"{SITE}\n{table}\n"})
    with pytest.raises(InputError) as error:
        read_scenario(folder)
    assert [str(fault).removeprefix("site.toml, ") for fault in error.value.faults] == expected


def test_frames_of_two_levels_cannot_travel_together(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"]
    assert isinstance(frames, str)
    site = SITE.replace('name = "B"', 'name = "B"\nlevel = 2') + '\n[load]\ntogether = [["North", "East"]]\n'
    changed = {
        "frames.csv": frames.replace("East,1", "East,2").replace("West,1", "West,2"),
        "site.toml": site,
    }
    with pytest.raises(InputError) as error:
        read_scenario(write_scenario(tmp_path, changed))
    assert [fault.text for fault in error.value.faults] == [
        "frame North is of level 1, frame East of level 2: a pack holds frames of one level"
    ]
