"""Tables as European spreadsheets save them: semicolons, decimal commas, byte-order mark, CRLF."""

from __future__ import annotations

from pathlib import Path

import pytest
from square_room import SOUND_FILES, write_scenario

from packseq.errors import InputError
from packseq.scenario.read import read_scenario


def european(text: str) -> bytes:
    """Return a table as such a spreadsheet writes it."""
    swapped = text.replace(",", ";").replace(".", ",")
    return b"\xef\xbb\xbf" + swapped.replace("\n", "\r\n").encode()


def test_the_same_scenario_is_read(tmp_path: Path) -> None:
    tables = {name: european(text) for name, text in SOUND_FILES.items() if name.endswith(".csv")}
    assert b"55,5" in tables["frames.csv"]
    plain, saved = (read_scenario(write_scenario(tmp_path, changed)) for changed in ({}, tables))
    assert saved.frames == plain.frames
    assert saved.packs == plain.packs


def test_one_table_may_have_semicolons_and_the_others_commas(tmp_path: Path) -> None:
    changed = {"packs.csv": european(SOUND_FILES["packs.csv"])}
    assert read_scenario(write_scenario(tmp_path, changed)).packs


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("3000;2955", "3.000;2955", "'3.000' may mean 3000 or 3,000; write it so"),
        ("3000;2955", "3 000;2955", "'3 000' is not a number; write it without thousands separators"),
        ("3000;2955", "3.000,5;2955", "'3.000,5' is not a number; write it without thousands separators"),
        ("3000;2955", "3000,5,5;2955", "'3000,5,5' is not a number"),
    ],
)
def test_thousands_are_not_guessed_at(old: str, new: str, expected: str, tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace(",", ";")
    assert old in frames
    with pytest.raises(InputError) as caught:
        read_scenario(write_scenario(tmp_path, {"frames.csv": frames.replace(old, new, 1)}))
    assert caught.value.lines == (f"frames.csv, row 4, column x1_mm, frame North: {expected}",)


def test_a_decimal_point_between_semicolons_is_read(tmp_path: Path) -> None:
    frames = SOUND_FILES["frames.csv"].replace(",", ";")
    assert read_scenario(write_scenario(tmp_path, {"frames.csv": frames})).frames["East"].mass_kg == 55.5
