"""What a sound folder is read as."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path

import pytest
from square_room import SOUND_FILES, Changes, write_scenario

from packseq.scenario.files import fingerprint
from packseq.scenario.mass import estimate_mass_kg
from packseq.scenario.model import Crew, Opening, Place, Spot, StandChoices
from packseq.scenario.rates import TimeRates
from packseq.scenario.read import read_scenario


def test_every_value_of_the_sound_scenario_is_read(tmp_path: Path) -> None:
    scenario = read_scenario(write_scenario(tmp_path))
    assert scenario.name == "square room"
    assert scenario.slab == ((0, 0), (3000, 0), (3000, 3000), (0, 3000))
    assert list(scenario.frames) == ["South", "East", "North", "West"]
    assert scenario.crew == Crew(people=4, share_kg=25)
    assert scenario.stand == StandChoices(hold_open=0)
    assert scenario.rates == TimeRates(1.0, 0.5, 30, 300, 60)
    assert (scenario.join_gap_mm, scenario.clearance_mm) == (30, 50)
    assert (scenario.gaps, scenario.no_go, scenario.levels) == ((), (), (1,))
    assert scenario.spots == {"S1": Spot("S1", 1, (1500, 1500), 0, (3000, 2700), "pile", 2)}

    east = scenario.frames["East"]
    assert (east.start, east.end, east.length_mm) == ((2955, 90), (2955, 2910), 2820)
    assert (east.height_mm, east.thickness_mm, east.location) == (2410, 90, "external")
    assert (east.mass_kg, east.mass_is_estimate, east.row, east.openings) == (55.5, False, 3, ())
    assert scenario.frames["North"].openings == (Opening("window", 900, 1200, 1000, 2030),)


def test_pack_takes_its_longest_and_tallest_frame_and_lists_layers_from_the_top(
    tmp_path: Path,
) -> None:
    pack = read_scenario(write_scenario(tmp_path)).packs["B"]
    assert pack.layers == (("West",), ("East",))
    assert (pack.length_mm, pack.width_mm) == (2820, 2410)
    assert pack.places == (Place((-3000, 1500), 90),)
    assert (pack.level, pack.holds) == (1, 0)


def test_rates_of_time_replace_the_defaults_one_by_one(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].replace("[crew]", "[time]\nstand_s = 480\nloaded_m_per_s = 0.4\n[crew]")
    scenario = read_scenario(write_scenario(tmp_path, {"site.toml": site}))
    assert scenario.rates == TimeRates(loaded_m_per_s=0.4, stand_s=480)


def test_layers_go_by_number_with_gaps_and_may_hold_two_frames(tmp_path: Path) -> None:
    packs = "layer,frame,pack\n9,South,A\n2,North,A\n2,West,A\n1,East,B\n"
    pack = read_scenario(write_scenario(tmp_path, {"packs.csv": packs})).packs["A"]
    assert pack.layers == (("North", "West"), ("South",))
    assert pack.layer_numbers == (2, 9)


def test_columns_come_in_any_order_and_optional_ones_may_be_left_out(tmp_path: Path) -> None:
    frames = (
        "HEIGHT_MM,frame,x2_mm, y2_mm ,x1_mm,y1_mm,thickness_mm\n"
        "2400,South,3000,45,0,45,90\n2400,East,2955,2910,2955,90,90\n"
        "2400,North,0,2955,3000,2955,90\n2400,West,45,90,45,2910,90\n"
    )
    south = read_scenario(write_scenario(tmp_path, {"frames.csv": frames})).frames["South"]
    assert (south.start, south.end) == ((0, 45), (3000, 45))
    assert (south.level, south.location, south.mass_is_estimate) == (1, None, True)


def test_a_blank_mass_is_estimated_with_the_openings_of_the_frame(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("2400,90,external,62", "2400,90,,")
    north = read_scenario(write_scenario(tmp_path, {"frames.csv": frames})).frames["North"]
    assert north.mass_is_estimate
    assert north.location is None
    assert north.mass_kg == estimate_mass_kg(3000, 2400, 90, (Opening("window", 900, 1200, 1000, 2030),))


def test_openings_are_ordered_from_end_1_and_a_door_needs_no_sill(tmp_path: Path) -> None:
    header = "frame,kind,from_mm,width_mm,sill_mm,head_mm"
    openings = f"{header}\nSouth,window,2000,600,900,2000\nSouth,Door,300,860,,2030\n"
    south = read_scenario(write_scenario(tmp_path, {"openings.csv": openings})).frames["South"]
    assert [(opening.kind, opening.from_mm, opening.sill_mm) for opening in south.openings] == [
        ("door", 300, 0),
        ("window", 2000, 900),
    ]


def test_openings_file_may_be_absent_or_hold_only_its_header(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"openings.csv": None})
    assert read_scenario(folder).frames["South"].openings == ()
    (folder / "openings.csv").write_text(SOUND_FILES["openings.csv"].splitlines()[0], encoding="utf-8")
    assert read_scenario(folder).frames["South"].openings == ()


def test_names_match_across_files_after_trimming_and_ignoring_case(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].replace(
        "hold_open = 0", 'reference = [" SOUTH "]\n[[gap]]\nbetween = ["north", "EAST"]'
    )
    packs = 'pack,layer,frame\na,1,"  NORTH "\n A ,2,south\nb,1,west\nB,2,East\n'
    scenario = read_scenario(write_scenario(tmp_path, {"site.toml": site, "packs.csv": packs}))
    assert scenario.packs["A"].frames == ("North", "South")
    assert scenario.stand.reference == ("South",)
    assert scenario.gaps == (("North", "East"),)


def test_names_match_whether_accents_are_composed_or_not(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("South", "W\u0101hi")
    packs = SOUND_FILES["packs.csv"].replace("South", "wa\u0304hi")
    folder = write_scenario(tmp_path, {"frames.csv": frames, "packs.csv": packs, "openings.csv": None})
    scenario = read_scenario(folder)
    assert scenario.packs["A"].frames == ("North", "W\u0101hi")


@pytest.mark.parametrize("name", ["=1+1", "<b>W1</b>", "@SUM(A1)", "W1; DROP", "x" * 20, "..\\W1"])
def test_names_that_look_like_formulas_or_markup_stay_text(name: str, tmp_path: Path) -> None:
    changed = {
        file: SOUND_FILES[file].replace("South", name) for file in ("frames.csv", "packs.csv", "openings.csv")
    }
    assert name in read_scenario(write_scenario(tmp_path, changed)).frames


@pytest.mark.parametrize("line_end", ["\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_ends_and_byte_order_mark_make_no_difference_to_what_is_read(
    line_end: str, mark: bytes, tmp_path: Path
) -> None:
    plain = read_scenario(write_scenario(tmp_path))
    changed = {name: mark + text.replace("\n", line_end).encode() for name, text in SOUND_FILES.items()}
    assert replace(read_scenario(write_scenario(tmp_path, changed)), sha256=plain.sha256) == plain


def test_blank_rows_and_blank_cells_past_the_header_are_passed_over(tmp_path: Path) -> None:
    rows = SOUND_FILES["frames.csv"].splitlines()
    frames = "\n".join(["", rows[0] + ",,", "", " , ,", *(row + ",," for row in rows[1:])])
    # The header is row 2 and rows 3 and 4 are blank, so the first frame is in row 5.
    assert read_scenario(write_scenario(tmp_path, {"frames.csv": frames})).frames["South"].row == 5


def test_several_places_leave_the_choice_to_the_plan(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].replace(
        "at_mm = [1500, -3000]", "places_mm = [[1500, -3000, 0], [1500, 6000, 180.5]]\nholds = 3"
    )
    pack = read_scenario(write_scenario(tmp_path, {"site.toml": site})).packs["A"]
    assert pack.places == (Place((1500, -3000), 0), Place((1500, 6000), 180.5))
    assert pack.holds == 3


def test_every_choice_of_the_stand_table_is_read(tmp_path: Path) -> None:
    stand = (
        'lap = "free"\ndirection = "clockwise"\nhold_open = 2\ninternals = "any-time"\nlift_worth_m = 12.5\n'
        'reference = ["South"]'
    )
    site = SOUND_FILES["site.toml"].replace("hold_open = 0", stand)
    assert read_scenario(write_scenario(tmp_path, {"site.toml": site})).stand == StandChoices(
        reference=("South",),
        lap="free",
        direction="clockwise",
        hold_open=2,
        internals_any_time=True,
        lift_worth_m=12.5,
    )


def test_reference_auto_and_no_stand_table_are_the_defaults(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"]
    auto = site.replace("hold_open = 0", 'reference = "auto"')
    without = site.replace("[stand]\nhold_open = 0\n", "")
    assert read_scenario(write_scenario(tmp_path, {"site.toml": auto})).stand == StandChoices()
    assert read_scenario(write_scenario(tmp_path, {"site.toml": without})).stand == StandChoices()


def test_an_outline_may_repeat_its_first_point_at_its_end(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"] + "[[no_go]]\noutline_mm = [[9, 0], [9.5, 0], [9, 7], [9, 0]]\n"
    assert read_scenario(write_scenario(tmp_path, {"site.toml": site})).no_go == (((9, 0), (9.5, 0), (9, 7)),)


def test_two_levels_are_read(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace("East,1", "East,2").replace("West,1", "West,2")
    site = (
        SOUND_FILES["site.toml"]
        .replace("bearing_deg = 90", "level = 2")
        .replace("holds = 2", "holds = 2\nlevel = 2")
    )
    scenario = read_scenario(write_scenario(tmp_path, {"frames.csv": frames, "site.toml": site}))
    assert scenario.levels == (1, 2)
    assert (scenario.packs["B"].level, scenario.spots["S1"].level) == (2, 2)


def test_the_fingerprint_is_of_the_exact_bytes(tmp_path: Path) -> None:
    first = read_scenario(write_scenario(tmp_path)).sha256
    assert read_scenario(write_scenario(tmp_path)).sha256 == first
    others: list[Changes] = [
        {"packs.csv": SOUND_FILES["packs.csv"] + "\n"},
        {"site.toml": SOUND_FILES["site.toml"].replace("\n", "\r\n")},
        {"openings.csv": None},
        {"openings.csv": SOUND_FILES["openings.csv"].splitlines()[0]},
    ]
    prints = {read_scenario(write_scenario(tmp_path, changed)).sha256 for changed in others}
    assert len(prints - {first}) == 4


def test_the_fingerprint_is_name_length_and_bytes_in_a_fixed_order() -> None:
    # sha256 of b"site.toml\x002\x00abpacks.csv\x001\x00c", worked out by itself with hashlib.
    expected = hashlib.sha256(b"site.toml\x002\x00abpacks.csv\x001\x00c").hexdigest()
    assert fingerprint({"packs.csv": b"c", "site.toml": b"ab"}) == expected
    assert fingerprint({"packs.csv": b"bc", "site.toml": b"a"}) != expected


def test_other_files_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path)
    before = read_scenario(folder)
    (folder / "NOTE.md").write_bytes(b"\xff\x00")
    assert read_scenario(folder) == before
