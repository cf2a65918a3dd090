"""Whatever the files hold, reading gives a scenario or one `InputError` fit to print."""

from __future__ import annotations

import string
import tempfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from square_room import SOUND_FILES

from packseq.errors import InputError
from packseq.scenario.read import read_scenario

FILES = ["site.toml", "frames.csv", "openings.csv", "packs.csv"]
CELLS = st.one_of(
    st.sampled_from(
        ["", "South", "north", "A", "b", "door", "window", "external", "nan", "1e9", "-0", "0x1", "½"]
    ),
    st.integers(-10, 4000).map(str),
    st.text(st.characters(exclude_characters='",\n\r\0', codec="utf-8"), max_size=25),
)
VALUES = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(),
        st.floats(),
        st.dates(),
        st.sampled_from(["auto", "South", "pile", "free", "A"]).map(repr),
    ),
    lambda inner: st.lists(inner, max_size=4).map(lambda items: "[" + ", ".join(map(toml, items)) + "]"),
    max_leaves=8,
)


def toml(value: object) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def read_or_refuse(files: Mapping[str, bytes]) -> None:
    """Read the files; a refusal must hold faults, none of them twice, each on one printable line."""
    refusal = None
    with tempfile.TemporaryDirectory() as directory:
        folder = Path(directory)
        for name, content in files.items():
            (folder / name).write_bytes(content)
        try:
            scenario = read_scenario(folder)
        except InputError as error:
            refusal = error
        else:
            assert set(scenario.pack_of) == set(scenario.frames)
            assert all(frame.mass_kg > 0 for frame in scenario.frames.values())
    if refusal is not None:
        assert refusal.faults
        assert len(set(refusal.faults)) == len(refusal.faults)
        assert all(line.isprintable() for line in refusal.lines)


@pytest.mark.parametrize("name", FILES)
@given(content=st.binary(max_size=300))
def test_any_bytes(name: str, content: bytes) -> None:
    files = {file: text.encode() for file, text in SOUND_FILES.items()}
    read_or_refuse({**files, name: content})


@pytest.mark.parametrize("name", FILES)
@given(data=st.data())
def test_sound_files_with_a_stretch_replaced(name: str, data: st.DataObject) -> None:
    text = SOUND_FILES[name]
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 12)))
    filling = data.draw(st.text(string.printable + "\0\u2028½", max_size=8))
    files = {file: text.encode() for file, text in SOUND_FILES.items()}
    read_or_refuse({**files, name: (text[:start] + filling + text[end:]).encode()})


@pytest.mark.parametrize("name", FILES[1:])
@given(data=st.data())
def test_tables_with_any_cells(name: str, data: st.DataObject) -> None:
    rows = [row.split(",") for row in SOUND_FILES[name].splitlines()]
    for _ in range(data.draw(st.integers(1, 6))):
        row = data.draw(st.integers(0, len(rows) - 1))
        rows[row][data.draw(st.integers(0, len(rows[row]) - 1))] = data.draw(CELLS)
    files = {file: text.encode() for file, text in SOUND_FILES.items()}
    read_or_refuse({**files, name: "\n".join(",".join(row) for row in rows).encode()})


@settings(max_examples=200)
@given(data=st.data())
def test_site_with_any_values(data: st.DataObject) -> None:
    lines = SOUND_FILES["site.toml"].splitlines()
    settable = [number for number, line in enumerate(lines) if "=" in line]
    for number in data.draw(st.lists(st.sampled_from(settable), min_size=1, max_size=4)):
        key = lines[number].split("=")[0].strip()
        lines[number] = f"{key} = {toml(data.draw(VALUES))}"
    files = {file: text.encode() for file, text in SOUND_FILES.items()}
    read_or_refuse({**files, "site.toml": "\n".join(lines).encode()})
