"""Lengths that are likely slips: frames that miss each other, run past a corner or lie on one another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sketch import Line, frame, sketch

from packseq.house.derive import derive_house
from packseq.house.doubts import doubtful_ends
from packseq.house.misses import likely_misses, miss_text

# A corner as the demo has it: E7 runs through to x = 15000, E8 stands on its north face, x 14910 to 15000.
E8: Line = (14955.0, 90.0, 14955.0, 4200.0)

# 6000 x 4000 over the outside, S and N running through.
BOX: dict[str, Line] = {
    "S": (0.0, 45.0, 6000.0, 45.0),
    "E": (5955.0, 90.0, 5955.0, 3910.0),
    "N": (6000.0, 3955.0, 0.0, 3955.0),
    "W": (45.0, 3910.0, 45.0, 90.0),
}


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        # It ends 140 mm short of flush: 15000 - 14860.
        (
            (11100.0, 45.0, 14860.0, 45.0),
            "E7 and E8 miss each other by 140 mm; is E7 3,900 rather than 3,760 (x2_mm 15000)?",
        ),
        # Given from the other end, it is end 1 that is wrong.
        (
            (14860.0, 45.0, 11100.0, 45.0),
            "E7 and E8 miss each other by 140 mm; is E7 3,900 rather than 3,760 (x1_mm 15000)?",
        ),
        # Flush, and 140 mm past it.
        ((11100.0, 45.0, 15000.0, 45.0), None),
        (
            (11100.0, 45.0, 15140.0, 45.0),
            "E7 and E8 miss each other by 140 mm; is E7 3,900 rather than 4,040 (x2_mm 15000)?",
        ),
        # Against its side: the face is at 14910.
        (
            (11100.0, 2000.0, 14770.0, 2000.0),
            "E7 and E8 miss each other by 140 mm; is E7 3,810 rather than 3,670 (x2_mm 14910)?",
        ),
        ((11100.0, 2000.0, 14910.0, 2000.0), None),
        # 700 mm is no slip, and south of its end it never meets it.
        ((11100.0, 2000.0, 14210.0, 2000.0), None),
        ((11100.0, -500.0, 14860.0, -500.0), None),
        # In line: E8 ends at 4200.
        (
            (14955.0, 4300.0, 14955.0, 8300.0),
            (
                "E7 and E8 miss each other by 100 mm; is E7 4,100 rather than 4,000 (y1_mm 4200)? "
                "Or is E8 4,210 rather than 4,110 (y2_mm 4300)?"
            ),
        ),
        # Beside it, not in line.
        ((14755.0, 4300.0, 14755.0, 8300.0), None),
    ],
)
def test_what_would_bring_two_frames_together(line: Line, expected: str | None) -> None:
    assert miss_text(frame("E7", line), frame("E8", E8)) == expected


def test_a_frame_that_comes_in_at_an_angle() -> None:
    # From the south-west at 45 degrees its nearer edge meets the face, x = 14910, half a thickness before its
    # centre line does. The bay's end is (14910 - 14000) * sqrt(2) - 45 = 1241.93 short: no slip.
    bay = frame("B", (13000.0, 0.0, 14000.0, 1000.0))
    nearer = frame("B", (13800.0, 800.0, 14800.0, 1800.0))
    assert likely_misses(bay, frame("E8", E8)) == ()
    (miss,) = likely_misses(nearer, frame("E8", E8))
    # (14910 - 14800) * sqrt(2) - 45 = 110.56 short.
    assert miss.by_mm == pytest.approx(110.563, abs=0.001)


def test_a_frame_that_was_walked_is_asked_for_its_length_alone() -> None:
    walked = replace(frame("E7", (11100.0, 45.0, 14860.0, 45.0)), file="layout.csv")
    text = miss_text(walked, frame("E8", E8))
    assert text == "E7 and E8 miss each other by 140 mm; is E7 3,900 rather than 3,760?"


def doubts(lines: dict[str, Line], *gap: str) -> tuple[str, ...]:
    gaps = ((gap[0], gap[1]),) if gap else ()
    return doubtful_ends(derive_house(sketch(lines, gaps=gaps)))


def test_a_sound_house_raises_no_doubt() -> None:
    assert doubts({**BOX, "P": (3000.0, 90.0, 3000.0, 3910.0)}) == ()


def test_an_inside_wall_that_stops_just_short_is_asked_about() -> None:
    # N's face is at 3910.
    assert doubts({**BOX, "P": (3000.0, 90.0, 3000.0, 3770.0)}) == (
        "P and N miss each other by 140 mm; is P 3,820 rather than 3,680 (y2_mm 3910)?",
    )


def test_a_wall_that_runs_past_a_corner_is_asked_about() -> None:
    assert doubts({**BOX, "S": (0.0, 45.0, 6140.0, 45.0)}) == (
        "S runs 140 mm past E; is S 6,000 rather than 6,140 (x2_mm 6000)?",
    )


def test_a_nib_and_a_gap_raise_no_doubt() -> None:
    assert doubts({**BOX, "P": (3000.0, 90.0, 3000.0, 1500.0)}) == ()
    parted: dict[str, Line] = {**BOX, "S": (0.0, 45.0, 2000.0, 45.0), "T": (2500.0, 45.0, 6000.0, 45.0)}
    assert doubts(parted, "S", "T") == ()
