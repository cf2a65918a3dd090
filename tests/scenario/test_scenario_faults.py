"""One broken folder for each fault: the whole list of faults is compared."""

from __future__ import annotations

from pathlib import Path

import pytest
from square_room import SOUND_FILES, Changes, write_scenario

from packseq.errors import InputError
from packseq.scenario.frames import FRAMES_SHAPE
from packseq.scenario.read import read_scenario


def lines_of(parent: Path, changed: Changes) -> list[str]:
    folder = write_scenario(parent, changed)
    with pytest.raises(InputError) as caught:
        read_scenario(folder)
    return list(caught.value.lines)


def test_faults_of_every_file_come_at_once(tmp_path: Path) -> None:
    changed: Changes = {
        "site.toml": SOUND_FILES["site.toml"].replace("people = 4", "people = 0"),
        "frames.csv": SOUND_FILES["frames.csv"].replace("2410", "tall").replace("62", "-1"),
        "openings.csv": SOUND_FILES["openings.csv"].replace("2030", "2500", 1),
        "packs.csv": SOUND_FILES["packs.csv"].replace("B,2,East", "B,0,Easst"),
    }
    assert lines_of(tmp_path, changed) == [
        "site.toml, crew.people: must be at least 1, not 0",
        "frames.csv, row 3, column height_mm, frame East: 'tall' is not a number",
        "frames.csv, row 4, column mass_kg, frame North: '-1' must be from 0 to 5000",
        "openings.csv, row 2, column head_mm, frame South: the head is at 2500 mm in a frame 2400 mm high",
        "packs.csv, frame East: the frame is in no pack",
        "packs.csv, row 5, column layer: '0' must be from 1 to 1000",
        "packs.csv, row 5, column frame: there is no frame 'Easst'; did you mean 'East'?",
    ]


def test_a_broken_frames_file_hides_no_fault_of_packs_and_starts_none(tmp_path: Path) -> None:
    changed: Changes = {"frames.csv": b"\xff", "packs.csv": SOUND_FILES["packs.csv"].replace("A,2", "A,two")}
    assert lines_of(tmp_path, changed) == [
        "frames.csv, row 1: byte 1 (0xff) is not UTF-8; save the file as UTF-8",
        "packs.csv, row 3, column layer: 'two' is not a number",
    ]


def test_a_broken_site_file_hides_no_fault_of_packs_and_starts_none(tmp_path: Path) -> None:
    changed: Changes = {
        "site.toml": "format == 1",
        "packs.csv": SOUND_FILES["packs.csv"].replace("A,2", "A,1.5"),
    }
    assert lines_of(tmp_path, changed) == [
        "site.toml, row 1: cannot be read as TOML, at character 9 of this line: Invalid value",
        "packs.csv, row 3, column layer, frame South: '1.5' is not a whole number",
    ]


def frames_fault(column: str, text: str, row: int = 5, frame: str = "West") -> str:
    return f"frames.csv, row {row}, column {column}, frame {frame}: {text}"


# West is row 5: West,1,45,2910,45,90,2400,90,external,54
@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("West,0,45,2910,45,90,2400,90,,", frames_fault("level", "'0' must be from 1 to 20")),
        ("West,1.5,45,2910,45,90,2400,90,,", frames_fault("level", "'1.5' is not a whole number")),
        ("West,1,,2910,45,90,2400,90,,", frames_fault("x1_mm", "not given")),
        ("West,1,nan,2910,45,90,2400,90,,", frames_fault("x1_mm", "'nan' is not a number")),
        ("West,1,45,inf,45,90,2400,90,,", frames_fault("y1_mm", "'inf' is not a number")),
        (
            "West,1,45,1e400,45,90,2400,90,,",
            frames_fault("y1_mm", "'1e400' must be from -1000000 to 1000000"),
        ),
        ("West,1,45,1_000,45,90,2400,90,,", frames_fault("y1_mm", "'1_000' is not a number")),
        (
            'West,1,45,"2910,5",45,90,2400,90,,',
            frames_fault("y1_mm", "'2910,5' is not a number; a decimal point is written as a point"),
        ),
        (
            "West,1,45,2910,45,-1000001,2400,90,,",
            frames_fault("y2_mm", "'-1000001' must be from -1000000 to 1000000"),
        ),
        (
            "West,1,45,90,45,90,2400,90,,",
            frames_fault("x2_mm", "the frame is 0 mm long; a frame is from 100 to 20000 mm long"),
        ),
        (
            "West,1,45,189,45,90,2400,90,,",
            frames_fault("x2_mm", "the frame is 99 mm long; a frame is from 100 to 20000 mm long"),
        ),
        (
            "West,1,45,20091,45,90,2400,90,,",
            frames_fault("x2_mm", "the frame is 20001 mm long; a frame is from 100 to 20000 mm long"),
        ),
        ("West,1,45,2910,45,90,2.4,90,,", frames_fault("height_mm", "'2.4' must be from 300 to 6000")),
        ("West,1,45,2910,45,90,6001,90,,", frames_fault("height_mm", "'6001' must be from 300 to 6000")),
        ("West,1,45,2910,45,90,2400,19,,", frames_fault("thickness_mm", "'19' must be from 20 to 500")),
        ("West,1,45,2910,45,90,2400,501,,", frames_fault("thickness_mm", "'501' must be from 20 to 500")),
        (
            "West,1,45,2910,45,90,2400,90,outside,",
            frames_fault("location", "must be one of external, internal, not 'outside'"),
        ),
        (
            "West,1,45,2910,45,90,2400,90,,0",
            frames_fault(
                "mass_kg", "a frame cannot weigh nothing; leave the cell blank to have the mass estimated"
            ),
        ),
        ("West,1,45,2910,45,90,2400,90,,5001", frames_fault("mass_kg", "'5001' must be from 0 to 5000")),
        ("West,1,45,2910,45,90,2400,90", "frames.csv, row 5: has 8 cells where the header has 10"),
        ("West,1,45,5,2910,45,90,2400,90,,,x", "frames.csv, row 5: has 12 cells where the header has 10"),
    ],
)
def test_a_fault_in_a_row_of_frames(row: str, expected: str, tmp_path: Path) -> None:
    rows = SOUND_FILES["frames.csv"].splitlines()
    rows[4] = row
    assert lines_of(tmp_path, {"frames.csv": "\n".join(rows)}) == [expected]


@pytest.mark.parametrize(
    ("name", "shown", "text"),
    [
        ("x" * 21, repr("x" * 21), f"{'x' * 21!r} has 21 characters; a name has at most 20"),
        ('"We\nst"', r"'We\nst'", r"'We\nst' holds a character that cannot be printed"),
        ("We\x1b[31mst", r"'We\x1b[31mst'", r"'We\x1b[31mst' holds a character that cannot be printed"),
        ("We\u202est", r"'We\u202est'", r"'We\u202est' holds a character that cannot be printed"),
    ],
)
def test_a_name_that_cannot_be_used_is_told_once_and_never_printed_raw(
    name: str, shown: str, text: str, tmp_path: Path
) -> None:
    changed = {file: SOUND_FILES[file].replace("West", name) for file in ("frames.csv", "packs.csv")}
    assert lines_of(tmp_path, changed) == [f"frames.csv, row 5, column frame, frame {shown}: {text}"]


def test_a_frame_without_a_name(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("West,1", " ,1")
    assert lines_of(tmp_path, {"frames.csv": frames}) == [
        "frames.csv, row 5, column frame: the name is not given"
    ]


def test_two_frames_with_one_name(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("West,1", " south,1")
    packs = SOUND_FILES["packs.csv"].replace("B,1,West\n", "")
    assert lines_of(tmp_path, {"frames.csv": frames, "packs.csv": packs}) == [
        "frames.csv, row 5, column frame, frame south: the name is already taken in row 2"
    ]


HEADER = "frame,level,x1_mm,y1_mm,x2_mm,y2_mm,height_mm,thickness_mm,location,mass_kg"


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (
            HEADER.replace("height_mm", "hieght_mm"),
            [
                "frames.csv, row 1: there is no column 'hieght_mm'; did you mean height_mm?",
                "frames.csv, row 1, column height_mm: the column is missing",
            ],
        ),
        (
            HEADER.replace("mass_kg", "zzz"),
            [
                "frames.csv, row 1: there is no column 'zzz'; the columns are "
                + ", ".join(FRAMES_SHAPE.columns)
            ],
        ),
        (
            HEADER.replace("mass_kg", " Level "),
            ["frames.csv, row 1, column level: the column is there 2 times"],
        ),
        (HEADER.replace("location", ""), ["frames.csv, row 1: column 9 has no name"]),
        (
            HEADER.replace("frame,", "level,"),
            [
                "frames.csv, row 1, column level: the column is there 2 times",
                "frames.csv, row 1, column frame: the column is missing",
            ],
        ),
    ],
)
def test_a_fault_in_the_header_is_told_once_and_starts_no_others(
    header: str, expected: list[str], tmp_path: Path
) -> None:
    frames = SOUND_FILES["frames.csv"].replace(HEADER, header)
    assert lines_of(tmp_path, {"frames.csv": frames, "openings.csv": None}) == expected


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        ("", "is empty; its first row names the columns pack, layer, frame"),
        ("\n , \n", "is empty; its first row names the columns pack, layer, frame"),
        ('pack,"layer', "a quotation mark is opened and never closed"),
        ('pack,layer,frame\nA,1,"North\nA,2,South\n', "a quotation mark is opened and never closed"),
        (
            'pack,layer,frame\nA,1,"No"rth\n',
            "text follows a closing quotation mark; inside a quoted cell a quotation mark is written twice",
        ),
        (
            "pack,layer,frame\nA,1," + "x" * 131073,
            "a cell is longer than 131072 characters; is a quotation mark never closed?",
        ),
        ("pack\tlayer\tframe\n", "separates its cells with tabs; save it with commas or semicolons"),
        (",".join(["pack"] * 51), "has 51 columns; its columns are pack, layer, frame"),
        ("pack,layer,frame\n", "has no rows below its header"),
    ],
)
def test_a_table_that_is_no_table(content: str, expected: str, tmp_path: Path) -> None:
    lines = lines_of(tmp_path, {"packs.csv": content})
    assert expected in [line.split(": ", 1)[1] for line in lines if line.startswith("packs.csv")]
    assert not any("there is no" in line for line in lines)


def test_the_row_of_a_broken_quotation_is_named(tmp_path: Path) -> None:
    lines = lines_of(tmp_path, {"packs.csv": 'pack,layer,frame\n\nA,1,North\nA,2,"South\nB,1,West\n'})
    assert lines == ["packs.csv, row 4: a quotation mark is opened and never closed"]


@pytest.mark.parametrize(
    ("row", "column", "text"),
    [
        ("South,gate,300,860,0,2030", "kind", "must be one of door, window, opening, not 'gate'"),
        ("South,,300,860,0,2030", "kind", "must be one of door, window, opening, but is not given"),
        ("South,door,-1,860,0,2030", "from_mm", "'-1' must be from 0 to 20000"),
        ("South,door,300,0,0,2030", "width_mm", "'0' must be from 50 to 20000"),
        (
            "South,door,2200,860,0,2030",
            "width_mm",
            "the opening ends 3060 mm along a frame that is 3000 mm long",
        ),
        ("South,window,300,860,,2030", "sill_mm", "not given"),
        (
            "South,door,300,860,10,2030",
            "sill_mm",
            "a door has no sill; write 0, or call it a window or an opening",
        ),
        ("South,window,300,860,900,900", "head_mm", "the head (900) must be above the sill (900)"),
        ("South,door,300,860,0,2401", "head_mm", "the head is at 2401 mm in a frame 2400 mm high"),
        ("South,door,300,860,0,", "head_mm", "not given"),
        ("South,door,2000,860,0,2030", "from_mm", "overlaps the opening in row 3 by 100 mm"),
    ],
)
def test_a_fault_in_a_row_of_openings(row: str, column: str, text: str, tmp_path: Path) -> None:
    openings = f"frame,kind,from_mm,width_mm,sill_mm,head_mm\n{row}\nSouth,window,1400,700,900,2000\n"
    assert lines_of(tmp_path, {"openings.csv": openings}) == [
        f"openings.csv, row 2, column {column}, frame South: {text}"
    ]


def test_an_opening_in_no_known_frame(tmp_path: Path) -> None:
    openings = SOUND_FILES["openings.csv"].replace("North", "Nroth").replace("South", "zz")
    assert lines_of(tmp_path, {"openings.csv": openings}) == [
        "openings.csv, row 2, column frame: there is no frame 'zz'",
        "openings.csv, row 3, column frame: there is no frame 'Nroth'; did you mean 'North'?",
    ]


def test_names_are_no_longer_guessed_at_in_a_file_of_another_job(tmp_path: Path) -> None:
    rows = "".join(f"Suoth,door,0,860,0,{head}\n" for head in range(2000, 2101))
    lines = lines_of(tmp_path, {"openings.csv": f"frame,kind,from_mm,width_mm,sill_mm,head_mm\n{rows}"})
    assert len(lines) == 101
    assert lines[99].endswith("there is no frame 'Suoth'; did you mean 'South'?")
    assert lines[100].endswith("there is no frame 'Suoth'")


def test_openings_may_touch_and_fill_the_frame(tmp_path: Path) -> None:
    openings = (
        "frame,kind,from_mm,width_mm,sill_mm,head_mm\n"
        "South,opening,0,1500,0,2400\nSouth,window,1500,1500,900,2400\n"
    )
    scenario = read_scenario(write_scenario(tmp_path, {"openings.csv": openings}))
    assert len(scenario.frames["South"].openings) == 2


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "B,1,West",
            "B,1,South",
            [
                "packs.csv, frame West: the frame is in no pack",
                "packs.csv, row 4, column frame, frame South: the frame is already in pack 'A', row 3",
            ],
        ),
        (
            "A,2,South",
            "A,2,South\na,3,South",
            ["packs.csv, row 4, column frame, frame South: the frame is already in pack 'A', row 3"],
        ),
        ("A,2,South", "A,,South", ["packs.csv, row 3, column layer, frame South: not given"]),
        (
            "A,2,South",
            "A,-2,South",
            ["packs.csv, row 3, column layer, frame South: '-2' must be from 1 to 1000"],
        ),
        ("A,2,South", ",2,South", ["packs.csv, row 3, column pack, frame South: the name is not given"]),
        (
            "A,2,South",
            "A,2,",
            [
                "packs.csv, frame South: the frame is in no pack",
                "packs.csv, row 3, column frame: the name is not given",
            ],
        ),
        (
            "A,2,South",
            "C,2,South\nC,3,",
            [
                "packs.csv, row 3, column pack: there is no [[pack]] in site.toml with the name 'C'",
                "packs.csv, row 4, column frame: the name is not given",
            ],
        ),
    ],
)
def test_a_fault_in_the_stacks(old: str, new: str, expected: list[str], tmp_path: Path) -> None:
    assert lines_of(tmp_path, {"packs.csv": SOUND_FILES["packs.csv"].replace(old, new)}) == expected


def test_a_pack_of_mixed_levels_is_refused_by_name(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("East,1", "East,2")
    assert lines_of(tmp_path, {"frames.csv": frames}) == [
        "packs.csv, row 5, column frame, frame East: the frame is of level 2 but pack 'B' is of level 1"
    ]


def test_more_frames_than_can_be_planned(tmp_path: Path) -> None:
    rows = [f"F{number},,0,0,3000,0,2400,90,," for number in range(1001)]
    frames = SOUND_FILES["frames.csv"].splitlines()[0] + "\n" + "\n".join(rows)
    lines = lines_of(tmp_path, {"frames.csv": frames, "openings.csv": None})
    assert lines[0] == "frames.csv: has more than 1000 rows, the most that is read"
    # The rows beyond the cap go unread, so no frame of the stacks is called unknown.
    assert not any("there is no frame" in line for line in lines)
