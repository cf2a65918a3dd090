"""The mass of a frame from its timber, worked by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from packseq.scenario.mass import (
    DENSITY_KG_M3,
    Piece,
    estimate_mass_kg,
    specific_gravity_at,
    timber_density,
    timber_list,
)
from packseq.scenario.model import Opening


def test_density_of_the_wood_handbook() -> None:
    # USDA Wood Handbook FPL-GTR-190, chapter 4: G 0.40 at 12 % is 448 kg/m3 or 27.968 lb/ft3.
    assert timber_density(0.40, 12) == pytest.approx(448)
    assert timber_density(0.40, 12, water=62.43) == pytest.approx(27.968, abs=0.001)


def test_specific_gravity_of_the_wood_handbook() -> None:
    # FPL-GTR-190, chapter 4, from memory: basic 0.42 is 0.4501 at 12 %; green (30 %) it stays what it is.
    assert specific_gravity_at(0.42, 12) == pytest.approx(0.4501, abs=0.0001)
    assert specific_gravity_at(0.42, 30) == 0.42


@pytest.mark.parametrize(("moisture", "density"), [(12, 543), (18, 558)])
def test_douglas_fir_of_the_wood_handbook(moisture: float, density: float) -> None:
    # Coast Douglas-fir, basic 0.45 (Wood Handbook table 5-3, from memory): by the two formulas, by hand, G is
    # 0.4847 at 12 % and 0.4725 at 18 %, so 542.9 and 557.6 kg/m3.
    assert timber_density(specific_gravity_at(0.45, moisture), moisture) == pytest.approx(density, abs=0.5)


def test_the_density_assumed_agrees_with_basic_density_of_radiata() -> None:
    # Basic 415 kg/m3 (a published guide to radiata pine) comes to 497.6 at 12 %; a NZ Forest Service table
    # gives 496 for Rotorua.
    at_12 = timber_density(specific_gravity_at(0.415, 12), 12)
    assert at_12 == pytest.approx(497.6, abs=0.1)
    assert pytest.approx(at_12, rel=0.005) == DENSITY_KG_M3


@pytest.mark.parametrize(
    ("width_mm", "density", "kg_per_metre"),
    [
        # 0.090 x 0.045 m is 0.00405 m2 and 0.140 x 0.045 m is 0.0063 m2, times density.
        (90, 448, 1.814),
        (90, 480, 1.944),
        (90, 496, 2.009),
        (90, 500, 2.025),
        (90, 550, 2.228),
        (140, 480, 3.024),
        (140, 500, 3.150),
    ],
)
def test_mass_of_a_metre(width_mm: float, density: float, kg_per_metre: float) -> None:
    piece = Piece("stud", 1, length_mm=1000, depth_mm=45, width_mm=width_mm)
    assert piece.mass_kg(density) == pytest.approx(kg_per_metre, abs=0.00051)


def counted(pieces: tuple[Piece, ...]) -> dict[str, tuple[int, float]]:
    return {piece.kind: (piece.count, piece.length_mm) for piece in pieces}


def test_a_plain_frame_by_hand() -> None:
    # 2400 long and high, 90 thick. Studs at 22.5, 622.5, 1222.5, 1822.5 and the end: 5, each
    # 2400 - 2 x 45 = 2310. One row of nogs (2310 is more than 1350, less than 2700): 2400 - 5 x 45 = 2175.
    assert counted(timber_list(2400, 2400, 90)) == {
        "bottom plate": (1, 2400),
        "top plate": (1, 2400),
        "stud": (5, 2310),
        "row of nogs": (1, 2175),
    }
    # 2 x 2400 + 5 x 2310 + 2175 = 18525 mm; 18.525 m x 0.00405 m2 x 500 kg/m3 = 37.513 kg.
    assert estimate_mass_kg(2400, 2400, 90) == 37.5


def test_a_frame_with_a_window_by_hand() -> None:
    # 3600 long, window from 900 to 2100. Trimmer studs at 855-900 and 2100-2145, full studs beside them at
    # 810-855 and 2145-2190; regular studs at 622.5, 2422.5 and 3022.5 stay, 1222.5 and 1822.5 fall in the
    # window. Full studs: 2 ends + 2 + 3 = 7.
    window = Opening("window", 900, 1200, 1000, 2030)
    pieces = timber_list(3600, 2400, 90, [window])
    assert counted(pieces) == {
        "bottom plate": (1, 3600),
        "top plate": (1, 3600),
        "stud": (7, 2310),
        "trimmer stud": (2, 1985),  # 2030 - 45
        "lintel": (1, 1290),  # 1200 + 2 x 45, 140 deep up to a span of 1200
        "short stud over": (2, 185),  # 2400 - 45 - 2030 - 140
        "sill trimmer": (1, 1200),
        "short stud under": (2, 910),  # 1000 - 2 x 45
        "row of nogs": (1, 1995),  # 3600 - 1200 - 9 x 45
    }
    assert [piece.depth_mm for piece in pieces if piece.kind == "lintel"] == [140]
    # 45 x 90: 7200 + 16170 + 3970 + 370 + 1200 + 1820 + 1995 = 32725 mm, 0.132536 m3;
    # lintel 1.290 x 0.140 x 0.090 = 0.016254 m3; 0.148790 m3 x 500 = 74.395 kg.
    assert estimate_mass_kg(3600, 2400, 90, [window]) == 74.4


def test_a_door_has_its_bottom_plate_through_and_no_sill() -> None:
    pieces = counted(timber_list(3000, 2400, 90, [Opening("door", 1000, 860, 0, 2030)]))
    assert pieces["bottom plate"] == (1, 3000)
    assert pieces["lintel"] == (1, 950)
    assert not {"sill trimmer", "short stud under"} & set(pieces)


def test_a_door_as_wide_as_its_frame_leaves_no_studs() -> None:
    # The door runs from 20 to 880 in a frame of 900: nothing 45 thick fits beside it, and the lintel
    # has no trimmer studs to reach over.
    pieces = counted(timber_list(900, 2400, 90, [Opening("door", 20, 860, 0, 2030)]))
    assert not {"stud", "trimmer stud"} & set(pieces)
    assert pieces["lintel"] == (1, 860)


def test_a_lintel_fills_what_room_there_is() -> None:
    # 2400 - 45 - 2300 = 55 mm are left over the opening; with the head at 2355 nothing is.
    low = timber_list(3000, 2400, 90, [Opening("opening", 1000, 860, 0, 2300)])
    assert [piece.depth_mm for piece in low if piece.kind == "lintel"] == [55]
    full = timber_list(3000, 2400, 90, [Opening("opening", 1000, 860, 0, 2355)])
    assert "lintel" not in counted(full)


@pytest.mark.parametrize(
    ("span_mm", "depth_mm"),
    [(1200, 140), (1201, 190), (1800, 190), (1801, 240), (2400, 240), (2401, 290)],
)
def test_lintel_depth_by_span(span_mm: float, depth_mm: float) -> None:
    # Common practice, no source; 2700 - 45 - 2030 = 625 mm of room.
    pieces = timber_list(6000, 2700, 90, [Opening("opening", 1000, span_mm, 0, 2030)])
    assert [piece.depth_mm for piece in pieces if piece.kind == "lintel"] == [depth_mm]


@pytest.mark.parametrize(
    ("height_mm", "rows"),
    [(1440, 0), (1441, 1), (2790, 1), (2791, 2), (3000, 2)],  # studs are 90 mm shorter; 1350 between rows
)
def test_rows_of_nogs_by_height(height_mm: float, rows: int) -> None:
    assert counted(timber_list(2400, height_mm, 90)).get("row of nogs", (0, 0))[0] == rows


@pytest.mark.parametrize(
    ("length_mm", "spacing_mm", "studs"),
    [
        (100, 600, 2),
        (645, 600, 2),
        # A third stud at 622.5 ends at 645, clear of the last one only from a length of 690 on.
        (689, 600, 2),
        (690, 600, 3),
        (2400, 400, 7),  # 22.5 + 400 x 0..5, and the end
        (2400, 450, 7),  # 22.5 + 450 x 0..5 (2272.5 is clear of 2377.5), and the end
    ],
)
def test_studs_by_length_and_spacing(length_mm: float, spacing_mm: float, studs: int) -> None:
    pieces = counted(timber_list(length_mm, 2400, 90, stud_spacing_mm=spacing_mm))
    assert pieces["stud"] == (studs, 2310)


def test_density_scales_the_estimate() -> None:
    assert estimate_mass_kg(2400, 2400, 90, density_kg_m3=448) == 33.6  # 18.525 x 0.00405 x 448 = 33.612


@st.composite
def frames_with_openings(draw: st.DrawFn) -> tuple[float, float, list[Opening]]:
    length_mm = draw(st.integers(100, 9000))
    height_mm = draw(st.integers(300, 4000))
    cuts = sorted(draw(st.lists(st.integers(0, length_mm), max_size=6, unique=True)))
    openings = []
    for near, far in list(pairwise(cuts))[::2]:
        sill_mm = draw(st.integers(0, height_mm - 1))
        openings.append(
            Opening("opening", near, far - near, sill_mm, draw(st.integers(sill_mm + 1, height_mm)))
        )
    return length_mm, height_mm, openings


@given(frames_with_openings())
def test_no_frame_weighs_more_than_solid_wood(frame: tuple[float, float, list[Opening]]) -> None:
    length_mm, height_mm, openings = frame
    pieces = timber_list(length_mm, height_mm, 90, openings)
    assert all(piece.count > 0 and piece.length_mm > 0 and piece.depth_mm > 0 for piece in pieces)
    assert 0 < sum(piece.volume_m3 for piece in pieces) <= length_mm * height_mm * 90 / 1e9
