"""layout.csv: what is wrong in it, in words that help."""

from __future__ import annotations

import pytest
from walks import ROOMS, THREE_BEDROOM, cells, read


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "E2,N",
            "E2,up",
            (
                "row 3, column heading, frame E2: 'up' is no heading; write N, E, S, W, NE and so on, "
                "a bearing such as N30E, or a turn: L, R, R45"
            ),
        ),
        (
            "E1,E,6000",
            "E1,L,6000",
            "row 2, column heading, frame E1: the first frame of a walk needs a compass heading: N, E, S, W",
        ),
        (
            "N1,N,,E1,2000",
            "N1,,,E1,2000",
            "row 6, column heading, frame N1: not given: which way does it go off E1?",
        ),
        (
            "N1,N,,E1,2000",
            "N1,W,,E1,2000",
            (
                "row 6, column heading, frame N1: goes along E1, not off its side; "
                "leave at_mm blank to carry on from its end"
            ),
        ),
        ("E1,2000,E3", "E1,6000,E3", "row 6, column at_mm, frame N1: E1 is 6,000 mm long"),
        ("E1,2000,E3", "E1,2000,E2", "row 6, column to, frame N1: never meets E2 that way"),
        (
            "N1,1500,E2",
            "N1,-30,E3",
            "row 7, column to, frame N2: never meets E3 that way",
        ),
        (
            ",2400,100",
            ",2400,",
            (
                "row 2, column thickness_mm, frame E1: not given; give it here, and it holds for the rows "
                "below until another is given"
            ),
        ),
        (
            "E1,2000,E3",
            "E9,2000,E3",
            "row 6, column from, frame N1: there is no frame 'E9'",
        ),
        ("E1,2000,E3", "E1,2000,N1", "row 6, column to, frame N1: names the frame itself"),
        ("N1,N,,E1", "E1,N,,E1", "row 6, column frame, frame E1: the name is already taken in row 2"),
        # N2 starts on N1 further in, and N1 may straddle the end of E1.
        ("E1,2000,E3", "E1,-50,E3", None),
        (
            "N1,N,,E1",
            "N1,N,3660,E1",
            (
                "row 6, column length_mm, frame N1: N1 and E3 miss each other by 140 mm; "
                "is N1 3,800 rather than 3,660?"
            ),
        ),
        ("N1,N,,E1", "N1,N,3790,E1", None),
        (
            "N1,N,,E1",
            "N1,N,3860,E1",
            (
                "row 6, column length_mm, frame N1: N1 and E3 miss each other by 60 mm; "
                "is N1 3,800 rather than 3,860?"
            ),
        ),
        (
            "E1,2000,E3",
            "E1,2000,N2",
            (
                "row 6, column to, frame N1: waits for N2, which waits for this frame; "
                "give one of them a length or another start"
            ),
        ),
        (
            "6000,,,,east-west",
            "6000,,,,",
            (
                "row 3, column through, frame E2: which frame runs through at this corner? Write east-west, "
                "north-south, this or last; it holds for the rows below until another is given"
            ),
        ),
        (
            "6000,,,,east-west",
            "6000,,,,ew",
            "row 2, column through, frame E1: must be one of east-west, north-south, this, last, not 'ew'",
        ),
    ],
)
def test_a_fault_in_a_row(old: str, new: str, expected: str | None) -> None:
    assert old in ROOMS
    lines = read(ROOMS.replace(old, new, 1))[1]
    if expected is None:
        assert lines == []
    else:
        assert f"layout.csv, {expected}" in lines


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("U1,E,3000,,,,,,,,,,,2", "column x_mm, frame U1: where does level 2 begin? Give x_mm and y_mm"),
        ("U1,E,3000,,,,,,,5,,,,2", "column x_mm, frame U1: x_mm and y_mm go together"),
        ("U1,E,3000,E1,,,,,,5,5,,,2", "column from, frame U1: leave this blank"),
    ],
)
def test_where_another_walk_begins(row: str, expected: str) -> None:
    lines = read(cells("E1,E,6000,,,,,east-west,,,,2400,100,1", row))[1]
    assert any(line.startswith(f"layout.csv, row 3, {expected}") for line in lines), lines


def closing(old: str, new: str) -> str:
    """Return the one fault of the three-bedroom house with an entry changed."""
    sound = THREE_BEDROOM.read_text(encoding="utf-8")
    assert old in sound
    (line,) = [line for line in read(sound.replace(old, new, 1))[1] if "miss each other" in line]
    return line


def test_the_sound_house_closes() -> None:
    assert read(THREE_BEDROOM.read_text(encoding="utf-8"))[1] == []


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        # The right figure is rounder than the one typed; 3900 - 3760 = 140.
        ("E7,,3900", "E7,,3760", "row 8, column length_mm, frame E7: E14 and E1 miss each other by 140 mm"),
        (
            "E7,,3900",
            "E7,,3760",
            "is E7 3,900 rather than 3,760? (others that lie the same way: E1, E2, E4, E6)",
        ),
        # One digit wrong, and the right figure is that of the next frame too.
        ("E10,W,5000", "E10,W,5300", "is E10 5,000 rather than 5,300?"),
        ("E8,N,4110", "E8,N,4010", "is E8 4,110 rather than 4,010?"),
        # Two digits swapped.
        ("E14,,4110", "E14,,4011", "is E14 4,110 rather than 4,011?"),
        # A digit dropped.
        ("E6,E,3600", "E6,E,360", "is E6 3,600 rather than 360?"),
        # Walked the wrong way.
        ("E4,E,1800", "E4,W,1800", "row 5, column heading, frame E4: "),
        ("E4,E,1800", "E4,W,1800", "is E4 going east rather than west?"),
        ("E5,S", "E5,N", "Or is E5 going south rather than north?"),
        # Which frame runs through: 180 mm, two frames thick, is the sign of it.
        ("2700,,,,,east-west", "2700,,,,,north-south", "miss each other by 180 mm"),
        (
            "2700,,,,,east-west",
            "2700,,,,,north-south",
            "It closes with east-west at the corner of E14 and E1",
        ),
    ],
)
def test_what_is_most_likely_wrong(old: str, new: str, expected: str) -> None:
    assert expected in closing(old, new)


def test_two_lengths_that_are_as_likely_are_both_asked_for() -> None:
    # In a rectangle each of two sides is the other's length, right or wrong: only the plan can tell.
    rectangle = cells("E1,E,6000,,,,,east-west,,,,2400,90", "E2,N,3820", "E3,W,6000", "E4,S,3680")
    (line,) = read(rectangle)[1]
    assert line.endswith("is E2 3,680 rather than 3,820? Or is E4 3,820 rather than 3,680?")


def test_two_wrong_lengths() -> None:
    sound = THREE_BEDROOM.read_text(encoding="utf-8")
    (line,) = read(sound.replace("E7,,3900", "E7,,3990").replace("E9,,4110", "E9,,4010"))[1]
    # sqrt(90^2 + 100^2) = 134.5
    assert "miss each other by 135 mm" in line
    assert "90 mm east and 100 mm south" in line
    assert "is E7 3,900 rather than 3,990? And is E9 4,110 rather than 4,010?" in line


def test_a_frame_that_is_missing() -> None:
    sound = THREE_BEDROOM.read_text(encoding="utf-8")
    lines = read(sound.replace("E13,S,4110,,,,,,,,\n", ""))[1]
    assert any(line.endswith("is a frame missing, or are several entries wrong?") for line in lines)


def test_a_site_wall_need_not_close() -> None:
    assert read(cells("E1,E,3000,,,,,,,,,2400,100", "E2,,3000"))[1] == []
