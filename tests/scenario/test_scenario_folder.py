"""Folders and files that cannot be read at all."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from square_room import SOUND_FILES, write_scenario

from packseq.errors import InputError
from packseq.scenario.read import read_scenario


def lines_of(folder: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_scenario(folder)
    return list(caught.value.lines)


def test_no_such_folder(tmp_path: Path) -> None:
    folder = tmp_path / "nowhere"
    assert lines_of(folder) == [f"{folder}: there is no such folder"]


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    file = write_scenario(tmp_path) / "site.toml"
    assert lines_of(file) == [f"{file}: is a file, not a scenario folder"]


def test_an_empty_folder_names_every_file_it_lacks(tmp_path: Path) -> None:
    assert lines_of(tmp_path) == [
        "site.toml: is not in the folder",
        "frames.csv: is not in the folder, and neither is layout.csv or tables.xlsx",
        "packs.csv: is not in the folder",
    ]


@pytest.mark.parametrize("name", ["site.toml", "packs.csv"])
def test_one_missing_file_is_the_only_fault(name: str, tmp_path: Path) -> None:
    assert lines_of(write_scenario(tmp_path, {name: None})) == [f"{name}: is not in the folder"]


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"openings.csv": None})
    (folder / "openings.csv").mkdir()
    assert lines_of(folder) == ["openings.csv: is not a file"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="named pipes are a POSIX thing")
def test_a_named_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path, {"openings.csv": None})
    os.mkfifo(folder / "openings.csv")
    assert lines_of(folder) == ["openings.csv: is not a file"]


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_that_may_not_be_read(tmp_path: Path) -> None:
    folder = write_scenario(tmp_path)
    (folder / "packs.csv").chmod(0)
    assert lines_of(folder) == ["packs.csv: cannot be read: Permission denied"]


def test_a_file_whose_reading_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    folder = write_scenario(tmp_path)
    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert lines_of(folder) == [
        f"{name}: cannot be read: Permission denied"
        for name in ("site.toml", "frames.csv", "openings.csv", "packs.csv")
    ]


def test_a_folder_that_may_not_be_looked_into(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "is_dir", refuse)
    assert lines_of(tmp_path) == [f"{tmp_path}: cannot be looked into: Permission denied"]


def test_a_file_over_the_cap_is_not_read(tmp_path: Path) -> None:
    site = SOUND_FILES["site.toml"].encode().ljust(200_001, b"\n")
    packs = b" " * 2_000_001
    assert lines_of(write_scenario(tmp_path, {"site.toml": site, "packs.csv": packs})) == [
        "site.toml: has 200001 bytes; at most 200000 are read",
        "packs.csv: has 2000001 bytes; at most 2000000 are read",
    ]
    assert read_scenario(write_scenario(tmp_path, {"site.toml": site[:-1]})).packs


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (
            b"pack,layer,frame\r\nA,1,W\xe9st\r\n",
            "packs.csv, row 2: byte 24 (0xe9) is not UTF-8; save the file as UTF-8",
        ),
        (b"pack,layer,frame\n\nA,1,\0\n", "packs.csv, row 3: holds a NUL character; is it a text file?"),
        ("pack,layer,frame".encode("utf-16"), "packs.csv: is UTF-16; save it as UTF-8"),
        (b"PK\x03\x04\x14\x00\x06", "packs.csv, row 1: holds a NUL character; is it a text file?"),
    ],
)
def test_bytes_that_are_no_text(content: bytes, expected: str, tmp_path: Path) -> None:
    assert lines_of(write_scenario(tmp_path, {"packs.csv": content})) == [expected]
