"""One broken site.toml for each fault: the whole list of faults is compared."""

from __future__ import annotations

from pathlib import Path

import pytest
from square_room import SOUND_FILES, write_scenario

from packseq.errors import InputError
from packseq.scenario.read import read_scenario
from packseq.scenario.site import GapTable

CASES = [
    # format and name
    ("format = 1\n", "", ["format: not given"]),
    ("format = 1\n", "format = 2\n", ["format: must be 1: no other format can be read"]),
    ("format = 1\n", "format = true\n", ["format: must be a whole number"]),
    ('name = "square room"', 'name = ""', ["name: the name is not given"]),
    ('name = "square room"', 'name = "a\\nb"', [r"name: 'a\nb' holds a character that cannot be printed"]),
    ('name = "square room"', "name = 7", ["name: must be text in quotes"]),
    # unknown keys
    ("format = 1\n", "format = 1\nslabs = 2\n", ["slabs: unknown key; did you mean slab?"]),
    (
        "people = 4",
        "people = 4\nq = 1",
        ["crew.q: unknown key; the keys here are people, share_kg"],
    ),
    ("bearing_deg = 90", "bearing = 90", ["pack[2].bearing: unknown key; did you mean bearing_deg?"]),
    (
        "people = 4",
        'people = 4\n"a\\nb" = 1',
        [r"crew.'a\nb': unknown key; the keys here are people, share_kg"],
    ),
    # numbers
    ("format = 1\n", "format = 1\njoin_gap_mm = -1\n", ["join_gap_mm: must be at least 0, not -1"]),
    ("format = 1\n", "format = 1\nclearance_mm = nan\n", ["clearance_mm: must be a finite number"]),
    ("format = 1\n", "format = 1\nclearance_mm = '50'\n", ["clearance_mm: must be a number"]),
    ("people = 4", "people = 4.5", ["crew.people: must be a whole number"]),
    ("people = 4\n", "\n", ["crew.people: not given"]),
    ("people = 4", "people = 4\nshare_kg = 0", ["crew.share_kg: must be more than 0, not 0"]),
    ("[crew]\npeople = 4\n", "", ["crew: not given"]),
    ("[crew]\npeople = 4\n", "", ["crew: not given"]),
    # time
    ("[crew]", "[time]\nstand_s = -1\n[crew]", ["time.stand_s: must be at least 0, not -1"]),
    (
        "[crew]",
        "[time]\nloaded_m_per_s = 0\n[crew]",
        ["time.loaded_m_per_s: must be at least 0.05, not 0"],
    ),
    ("[crew]", "[time]\nempty_m_per_s = 30\n[crew]", ["time.empty_m_per_s: must be at most 3, not 30"]),
    ("[crew]", "[time]\nlift_off_s = nan\n[crew]", ["time.lift_off_s: must be a finite number"]),
    ("[crew]", "[time]\nstands_s = 9\n[crew]", ["time.stands_s: unknown key; did you mean stand_s?"]),
    # stand
    ("hold_open = 0", "hold_open = -1", ["stand.hold_open: must be at least 0, not -1"]),
    ("hold_open = 0", "lift_worth_m = inf", ["stand.lift_worth_m: must be a finite number"]),
    (
        "hold_open = 0",
        'lap = "round"',
        ["stand.lap: must be 'one-way', 'both-ways' or 'free', not 'round'"],
    ),
    (
        "hold_open = 0",
        'reference = "South"',
        ["stand.reference: must be \"auto\" or a list of frame names, not 'South'"],
    ),
    ("hold_open = 0", "reference = []", ["stand.reference: must hold at least 1"]),
    (
        "hold_open = 0",
        'reference = ["South", "Souht"]',
        ["stand.reference[2]: there is no frame 'Souht'; did you mean 'South'?"],
    ),
    ("hold_open = 0", 'reference = ["South", "SOUTH"]', ["stand.reference: names frame 'South' 2 times"]),
    # outlines
    (
        "[[0, 0], [3000, 0], [3000, 3000], [0, 3000]]",
        "[[0, 0], [3000, 0]]",
        ["slab.outline_mm: has 2 different points; an outline has at least 3"],
    ),
    (
        "[[0, 0], [3000, 0], [3000, 3000], [0, 3000]]",
        "[[0, 0], [3000, 3000], [3000, 0], [0, 3000]]",
        ["slab.outline_mm: crosses itself at 1500, 1500"],
    ),
    (
        "[[0, 0], [3000, 0], [3000, 3000], [0, 3000]]",
        "[[0, 0], [3000, 0], [3000, 0], [0, 3000]]",
        ["slab.outline_mm: passes twice through 3000, 0"],
    ),
    (
        "[[0, 0], [3000, 0], [3000, 3000], [0, 3000]]",
        "[[0, 0], [3000], [3000, 3000, 1], 4, [0, 'y']]",
        [
            "slab.outline_mm[2]: the list has too few entries",
            "slab.outline_mm[3]: must hold at most 2, not 3",
            "slab.outline_mm[4]: must be a list in square brackets",
            "slab.outline_mm[5][2]: must be a number",
        ],
    ),
    (
        "[[0, 0], [3000, 0], [3000, 3000], [0, 3000]]",
        "[[0, 0], [1000001, 0], [0, 3000]]",
        ["slab.outline_mm[2][1]: must be at most 1000000, not 1000001"],
    ),
    (
        "holds = 2\n",
        "holds = 2\n[[no_go]]\noutline_mm = [[0, 0], [1000, 0], [2000, 0]]\n",
        ["no_go[1].outline_mm: encloses no ground: its points lie on one line"],
    ),
    # packs
    (
        "at_mm = [1500, -3000]\n",
        "",
        ["pack[1].at_mm: not given; give at_mm, or places_mm to let the plan choose"],
    ),
    (
        "at_mm = [1500, -3000]\n",
        "at_mm = [1500, -3000]\nplaces_mm = [[0, 0, 0]]\n",
        ["pack[1]: give at_mm or places_mm, not both"],
    ),
    (
        "at_mm = [1500, -3000]\n",
        "places_mm = [[0, 0, 0]]\nbearing_deg = 5\n",
        ["pack[1].bearing_deg: goes with at_mm; in places_mm each place has its own bearing"],
    ),
    ("at_mm = [1500, -3000]\n", "places_mm = []\n", ["pack[1].places_mm: must hold at least 1"]),
    (
        "at_mm = [1500, -3000]\n",
        "places_mm = [[0, 0], [0, 0, 361]]\n",
        [
            "pack[1].places_mm[1]: the list has too few entries",
            "pack[1].places_mm[2][3]: must be at most 360, not 361",
        ],
    ),
    ("bearing_deg = 90", "holds = -1", ["pack[2].holds: must be at least 0, not -1"]),
    (
        "bearing_deg = 90",
        "level = 2",
        ["pack[2].level: no frame is of level 2; the frames are of level 1"],
    ),
    ("bearing_deg = 90", "level = 0", ["pack[2].level: must be at least 1, not 0"]),
    (
        'name = "B"',
        'name = " a "',
        [
            "pack[2].name: 'a' is already the name of pack[1]; packs and spots share no name",
            "packs.csv, row 4, column pack: there is no [[pack]] in site.toml with the name 'B'",
        ],
    ),
    (
        'name = "B"\n',
        "",
        [
            "pack[2].name: not given",
            "packs.csv, row 4, column pack: there is no [[pack]] in site.toml with the name 'B'",
        ],
    ),
    (
        'name = "S1"',
        'name = "a spot with a long name"',
        ["spot[1].name: 'a spot with a long name' has 23 characters; a name has at most 20"],
    ),
    ('name = "S1"', r'name = "\u0007"', [r"spot[1].name: '\x07' holds a character that cannot be printed"]),
    ('name = "S1"', 'name = "  "', ["spot[1].name: the name is not given"]),
    # spots
    (
        'name = "S1"',
        'name = "b"',
        ["spot[1].name: 'b' is already the name of pack[2]; packs and spots share no name"],
    ),
    ("holds = 2", "holds = 0", ["spot[1].holds: must be at least 1, not 0"]),
    (
        "holds = 2",
        "holds = 2\nlevel = 3",
        ["spot[1].level: no frame is of level 3; the frames are of level 1"],
    ),
    ("size_mm = [3000, 2700]", "size_mm = [0, 2700]", ["spot[1].size_mm[1]: must be more than 0, not 0"]),
    ('kind = "pile"', 'kind = "heap"', ["spot[1].kind: must be 'pile' or 'lean', not 'heap'"]),
    ("[[spot]]", "[spot]", ["spot: each one is written as [[spot]], in double brackets"]),
    # gaps
    (
        "holds = 2\n",
        'holds = 2\n[[gap]]\nbetween = ["South", " south "]\n',
        ["gap[1].between: names frame 'South' twice; a gap lies between two frames"],
    ),
    (
        "holds = 2\n",
        'holds = 2\n[[gap]]\nbetween = ["Sth", "Xx"]\n',
        [
            "gap[1].between[1]: there is no frame 'Sth'; did you mean 'South'?",
            "gap[1].between[2]: there is no frame 'Xx'",
        ],
    ),
    (
        "holds = 2\n",
        'holds = 2\n[[gap]]\nbetween = ["South"]\n',
        ["gap[1].between: the list has too few entries"],
    ),
    # TOML
    (
        "people = 4",
        "people =",
        ["row 11: cannot be read as TOML, at character 9 of this line: Invalid value"],
    ),
    (
        "holds = 2\n",
        "holds = [2\n",
        ["row 27: cannot be read as TOML, at the end of the file: Unclosed array"],
    ),
    (
        "people = 4",
        "people = 4\npeople = 5",
        ["row 12: cannot be read as TOML, at character 11 of this line: Cannot overwrite a value"],
    ),
    ("people = 4", "people = " + "[\n" * 5000, ["its lists are nested too deep to be read"]),
]


@pytest.mark.parametrize(("old", "new", "expected"), CASES)
def test_a_fault_in_the_site_file(old: str, new: str, expected: list[str], tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"]
    assert old in site
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site.replace(old, new, 1)}))
    assert [
        line.removeprefix("site.toml, ").removeprefix("site.toml: ") for line in caught.value.lines
    ] == expected


def test_a_gap_between_levels_is_refused(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("East,1", "East,2").replace("West,1", "West,2")
    site = SOUND_FILES["site.toml"].replace("bearing_deg = 90", "level = 2")
    site += '[[gap]]\nbetween = ["South", "East"]\n'
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"frames.csv": frames, "site.toml": site}))
    assert caught.value.lines == (
        "site.toml, gap[1].between: frame South is of level 1, frame East of level 2",
    )


@pytest.mark.parametrize("line", ["people = " + "4" * 1992, ".".join("a" * 1000) + ".b"])
def test_an_endless_line_is_not_read(line: str, tmp_path: Path) -> None:
    assert len(line) == 2001
    site = SOUND_FILES["site.toml"].replace("people = 4", line)
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site}))
    words = "the line has 2001 characters; at most 2000 are read: spread a list over several lines"
    assert caught.value.lines == (f"site.toml, row 11: {words}",)


def test_the_longest_line_is_read(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].replace("people = 4", "people = 4 #".ljust(2000, "-"))
    assert read_scenario(write_scenario(tmp_path, {"site.toml": site})).crew.people == 4


@pytest.mark.parametrize("number", ["0x" + "f" * 1900, "1" + "0" * 400])
def test_a_huge_whole_number(number: str, tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].replace("people = 4", f"people = {number}\nshare_kg = {number}")
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site}))
    assert caught.value.lines == (
        "site.toml, crew.people: must be at most 100",
        "site.toml, crew.share_kg: must be a number",
    )


def test_names_of_frames_cannot_be_checked_without_the_frames() -> None:
    with pytest.raises(TypeError, match="KnownFrames"):
        GapTable.model_validate({"between": ["South", "East"]})


@pytest.mark.parametrize(
    ("entry", "most", "key"),
    [
        ('[[pack]]\nname = "P{}"\nat_mm = [0, 0]\n', 100, "pack"),
        ('[[spot]]\nname = "P{}"\nat_mm = [0, 0]\nsize_mm = [1, 1]\nkind = "lean"\nholds = 1\n', 200, "spot"),
    ],
)
def test_more_packs_or_spots_than_can_be_planned(entry: str, most: int, key: str, tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"] + "".join(entry.format(number) for number in range(most))
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"site.toml": site}))
    count = most + (2 if key == "pack" else 1)
    assert f"site.toml, {key}: must hold at most {most}, not {count}" in caught.value.lines
