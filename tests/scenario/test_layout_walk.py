"""layout.csv: frames placed walking round the house."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from walks import COLUMNS, ROOMS, THREE_BEDROOM, cells, ends, read

from packseq.house.derive import derive_house
from packseq.scenario.read import read_scenario
from packseq.scenario.walkround.headings import parse_heading, spoken, written

ROOT = Path(__file__).parents[2]
SCENARIOS = ROOT / "scenarios"


def test_a_house_of_two_rooms() -> None:
    # The outside faces lie at 0 and 6000, 0 and 4000, so the centre lines 50 further in.
    # N1: from the west end of E1 2000 to its near (west) face, so its centre line is at 2050;
    # it begins on the inside face of E1, y = 100, and ends on that of E3, y = 3900.
    # N2: left of its way east is north: 1500 down from the north end of N1, y = 3900 - 1500 - 50;
    # from the east face of N1, x = 2100, to the inside face of E2, x = 5900.
    assert ends(ROOMS) == {
        "E1": (0, 50, 6000, 50),
        "E2": (5950, 100, 5950, 3900),
        "E3": (6000, 3950, 0, 3950),
        "E4": (50, 3900, 50, 100),
        "N1": (2050, 100, 2050, 3900),
        "N2": (2100, 2350, 5900, 2350),
    }


def test_the_side_walls_run_through_instead() -> None:
    layout = ROOMS.replace("east-west", "north-south").replace("E,6000", "E,5800").replace("W,6000", "W,5800")
    layout = layout.replace("N,3800", "N,4000").replace("S,3800", "S,4000")
    placed = ends(layout)
    assert placed["E1"] == (100, 50, 5900, 50)
    assert placed["E2"] == (5950, 0, 5950, 4000)
    assert placed["E4"] == (50, 4000, 50, 0)


def test_each_frame_butts_against_the_last() -> None:
    # A pinwheel: every frame runs through at its end, so each is 100 short of the face it begins at.
    placed = ends(
        cells(
            "E1,E,5900,,,,,last,,,,2400,100",
            "E2,N,3900,,,,,,,,,,",
            "E3,W,5900,,,,,,,,,,",
            "E4,S,3900,,,,,,,,,,",
        )
    )
    assert placed == {
        "E1": (100, 50, 6000, 50),
        "E2": (5950, 100, 5950, 4000),
        "E3": (5900, 3950, 0, 3950),
        "E4": (50, 3900, 50, 0),
    }


def test_turns_do_as_well_as_compass_letters() -> None:
    turned = ROOMS.replace("E2,N", "E2,L").replace("E3,W", "E3,left").replace("E4,S", "E4,L90")
    assert ends(turned) == ends(ROOMS)
    assert ends(ROOMS.replace("N1,N,,E1", "N1,left,,E1").replace("N2,E,,N1", "N2,R,,N1")) == ends(ROOMS)


def test_rows_may_refer_to_rows_further_down() -> None:
    header, *rows = ROOMS.splitlines()
    swapped = "\n".join([header, *rows[:4], rows[5], rows[4]])
    assert ends(swapped) == ends(ROOMS)


@pytest.mark.parametrize(
    ("end", "at_mm", "west_face_mm"),
    # N1 goes north off E1, which is 6000 long: left is west.
    [
        ("", 2000, 2000),
        ("left", 2000, 2000),
        ("W", 2000, 2000),
        ("start", 2000, 2000),
        ("right", 1000, 4900),
        ("east", 1000, 4900),
        ("finish", 1000, 4900),
    ],
)
def test_the_end_to_measure_from(end: str, at_mm: int, west_face_mm: int) -> None:
    layout = cells(
        "E1,E,6000,,,,,east-west,,,,2400,100",
        "E2,N,3800",
        "E3,W,6000",
        "E4,S,3800",
        f"N1,N,1000,E1,{at_mm},{end}",
    )
    assert ends(layout)["N1"] == (west_face_mm + 50, 100, west_face_mm + 50, 1100)


def test_carrying_on_from_the_start_of_a_frame() -> None:
    layout = cells(
        "E1,E,6000,,,,,east-west,,1000,2000,2400,100",
        "N1,,1000,E1,,W",
        "N2,S,1000,E1,,start",
    )
    placed = ends(layout)
    assert placed["N1"] == (1000, 2000, 0, 2000)
    # East-west runs through, so N2 hangs under the west end of E1, flush with it.
    assert placed["N2"] == (1050, 1950, 1050, 950)


def test_a_gap_is_left_in_the_way_round() -> None:
    layout = cells(
        "E1,E,6000,,,,,east-west,,,,2400,100",
        "E2,N,3800",
        "E3,W,2000",
        "E4,,1600,,,,,,2400",
        "E5,S,3800",
    )
    placed = ends(layout)
    assert placed["E3"] == (6000, 3950, 4000, 3950)
    assert placed["E4"] == (1600, 3950, 0, 3950)
    # The gap may lie at the end of the way round too: then the first row has it.
    turned = cells(
        "E4,W,1600,,,,,east-west,2400,,,2400,100", "E5,S,3800", "E1,E,6000", "E2,N,3800", "E3,W,2000"
    )
    assert {name: ends(turned)[name] for name in placed} == placed


def test_a_corner_that_is_not_square_meets_at_the_inner_edges() -> None:
    # Bay: from E1 going east, turning 45 degrees to the right.
    placed = read(cells("E1,E,1000,,,,,,,0,0,2400,100", "E2,R45,1000"))[0]
    # Inner (right-hand) edge of E1 ends at (1000, -50). From there the centre line of E2 lies
    # 50 to the left of its way south-east: (+35.355, +35.355).
    assert placed["E2"].start == pytest.approx((1035.355339, -14.644661), abs=1e-6)


def test_a_level_of_its_own() -> None:
    upper = "U1,E,3000,,,,,,,1000,50,,,2\nU2,N,2000,,,,,,,,,,,\n"
    placed = read(cells("E1,E,6000,,,,,east-west,,,,2400,100,1") + upper)[0]
    assert placed["U1"].start == (1000, 50)
    assert placed["U1"].level == placed["U2"].level == 2
    assert placed["U2"].start == (3950, 100)


def test_the_three_bedroom_demo_entered_by_hand_is_the_same_to_the_millimetre(tmp_path: Path) -> None:
    demo = SCENARIOS / "three-bedroom"
    for name in ("site.toml", "openings.csv", "packs.csv"):
        (tmp_path / name).write_bytes((demo / name).read_bytes())
    (tmp_path / "layout.csv").write_bytes(THREE_BEDROOM.read_bytes())
    drawn, walked = read_scenario(demo), read_scenario(tmp_path)
    assert list(walked.frames) == list(drawn.frames)
    for name, frame in drawn.frames.items():
        other = walked.frames[name]
        # Three frames without openings are walked the other way.
        assert sorted((other.start, other.end)) == sorted((frame.start, frame.end)), name
        assert (other.openings, other.mass_kg) == (frame.openings, frame.mass_kg)
    # Nothing says there which frames are external: it is derived, and agrees.
    assert dict(derive_house(walked).locations) == {f.name: f.location for f in drawn.frames.values()}


def effort(table: Path) -> tuple[int, int, int]:
    """Return a table's rows, cells filled, and keys: characters, and one to leave each cell passed."""
    with table.open(newline="", encoding="utf-8") as file:
        _, *rows = csv.reader(file)
    last_cells = [max(place for place, cell in enumerate(row) if cell) for row in rows]
    cells = [cell for row in rows for cell in row if cell]
    return len(rows), len(cells), sum(map(len, cells)) + sum(last + 1 for last in last_cells)


def test_the_cells_and_keys_of_the_demo_are_those_in_the_document() -> None:
    document = (ROOT / "docs" / "entry.md").read_text(encoding="utf-8")
    tables = {
        "layout.csv": THREE_BEDROOM,
        "openings.csv": SCENARIOS / "three-bedroom" / "openings.csv",
        "packs.csv": SCENARIOS / "three-bedroom" / "packs.csv",
    }
    for name, table in tables.items():
        rows, cells, keys = effort(table)
        assert f"| `{name}` | {rows} | {cells} | {keys} |" in document
        # The minutes there: 4 s a cell, or 0.28 s a key and 1.35 s a cell.
        slow, quick = {"layout.csv": (10, 6), "openings.csv": (11, 7), "packs.csv": (8, 4)}[name]
        assert (round(cells * 4 / 60), round((keys * 0.28 + cells * 1.35) / 60)) == (slow, quick)
    # 38 frames in few fields, and not one coordinate among them.
    assert effort(THREE_BEDROOM)[1] <= 150
    header = THREE_BEDROOM.read_text(encoding="utf-8").splitlines()[0].split(",")
    assert not {"x_mm", "y_mm"} & set(header)


@pytest.mark.parametrize(
    ("text", "degrees", "turn"),
    [
        ("E", 0, False),
        ("north", 90, False),
        ("North-West", 135, False),
        ("sw", 225, False),
        ("N30E", 60, False),
        ("s 61.5 w", 208.5, False),
        ("N76°E", 14, False),
        ("L", 90, True),
        ("right", -90, True),
        ("R45", -45, True),
        ("left 22,5", 22.5, True),
        ("on", 0, True),
    ],
)
def test_headings(text: str, degrees: float, turn: bool) -> None:
    heading = parse_heading(text)
    assert heading is not None
    assert heading.degrees == pytest.approx(degrees)
    assert heading.turn is turn


@pytest.mark.parametrize("text", ["", "up", "N91E", "R180", "NNE", "12", "N-E-S", "E30N"])
def test_no_heading(text: str) -> None:
    assert parse_heading(text) is None


@pytest.mark.parametrize("degrees", [0, 45, 60, 90, 123.25, 180, 200, 270, 359])
def test_a_written_heading_is_read_again(degrees: float) -> None:
    heading = parse_heading(written(degrees))
    assert heading is not None
    assert heading.degrees == pytest.approx(degrees)
    assert spoken(90) == "north"


def test_the_columns_of_the_helper_are_those_of_the_table() -> None:
    assert read(COLUMNS + "\n")[1] == ["layout.csv: has no rows below its header"]
