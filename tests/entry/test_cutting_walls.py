"""Long walls cut into frames: at joins, clear of openings, as few as may be."""

from __future__ import annotations

import itertools
import math
import random

import pytest

from packseq.entry.ifc.pieces import BESIDE_OPENING_MM, split, standing_against
from packseq.entry.ifc.walls import ModelWall
from packseq.scenario.model import Opening


def wall(length_mm: float, *openings: tuple[float, float], framed: bool = False) -> ModelWall:
    """Return a wall from west to east with openings from so far, so wide."""
    return ModelWall(
        key=1,
        called="wall",
        start=(0.0, 0.0),
        end=(length_mm, 0.0),
        thickness_mm=90.0,
        height_mm=2400.0,
        foot_mm=0.0,
        location=None,
        openings=tuple(Opening("window", begin, width, 900, 2000) for begin, width in openings),
        framed=framed,
        mass_kg=None,
        notes=(),
    )


def cuts(pieces: tuple[ModelWall, ...]) -> list[float]:
    return [piece.start[0] for piece in pieces[1:]]


def test_a_short_wall_and_a_framed_panel_stay_whole() -> None:
    assert split(wall(4800), (), 4800) == (wall(4800),)
    assert split(wall(9000, framed=True), (), 4800) == (wall(9000, framed=True),)


def test_without_anything_in_the_way_the_frames_are_even() -> None:
    # 9000 in frames of at most 4800 takes two; a whole multiple of 50 in the middle is 4500.
    assert cuts(split(wall(9000), (), 4800)) == [4500]


def test_a_cut_at_a_join_comes_before_an_even_one() -> None:
    assert cuts(split(wall(9000), [(4300, 90)], 4800)) == [4300]
    # But not where it costs a frame more: 9000 - 4000 = 5000 is too long.
    assert cuts(split(wall(9000), [(4000, 90)], 4800)) == [4500]


def test_a_cut_stays_clear_of_openings() -> None:
    # Between 4200 and 4800 lies a window from 4250 to 4950; with 90 either side only up to 4160 or
    # from 5040 are free: 4160 leaves 4840, so three frames are needed.
    pieces = split(wall(9000, (4250, 700)), (), 4800)
    assert len(pieces) == 3
    assert [len(piece.openings) for piece in pieces].count(1) == 1
    for place in cuts(pieces):
        assert not 4250 - BESIDE_OPENING_MM < place < 4950 + BESIDE_OPENING_MM


def test_an_opening_wider_than_a_frame_makes_a_longer_one() -> None:
    pieces = split(wall(9000, (2000, 5000)), (), 4800)
    # The frame over the opening is 5000 + 2 x 90 long at least, on a grid of 50: from 1900 to 7100.
    assert cuts(pieces) == [1900, 7100]


def test_openings_keep_their_place() -> None:
    pieces = split(wall(9000, (1000, 800), (6000, 900)), (), 4800)
    assert [[one.from_mm + piece.start[0] for one in piece.openings] for piece in pieces] == [[1000], [6000]]


@pytest.mark.parametrize("seed", range(40))
def test_as_few_frames_as_trying_every_cut(seed: int) -> None:
    chance = random.Random(seed)
    length_mm = chance.randrange(3000, 9001, 50)
    begin = chance.randrange(200, length_mm - 1300, 50)
    long_wall = wall(length_mm, (begin, chance.randrange(400, 1101, 50)))
    (opening,) = long_wall.openings
    most_mm = 2400.0
    free = [
        place
        for place in range(600, int(length_mm) - 599, 50)
        if not opening.from_mm - 90 < place < opening.from_mm + opening.width_mm + 90
    ]
    fewest = next(
        (
            count + 1
            for count in range(5)
            for some in itertools.combinations(free, count)
            if all(after - before <= most_mm for before, after in itertools.pairwise((0, *some, length_mm)))
        ),
        None,
    )
    pieces = split(long_wall, (), most_mm)
    assert math.isclose(sum(piece.length_mm for piece in pieces), length_mm)
    # Even parts off the grid may do with fewer still.
    if fewest is not None:
        assert len(pieces) <= fewest
        assert all(piece.length_mm <= most_mm for piece in pieces)


def test_where_other_walls_stand_against_a_wall() -> None:
    long_wall = wall(6000)
    stem = ModelWall(2, "stem", (2000, 45), (2000, 3000), 70.0, 2400.0, 0.0, None, (), False, None, ())
    beyond = ModelWall(3, "beyond", (4000, 500), (4000, 3000), 70.0, 2400.0, 0.0, None, (), False, None, ())
    assert standing_against(long_wall, [stem, beyond], 30.0) == ((2000, 70.0),)
