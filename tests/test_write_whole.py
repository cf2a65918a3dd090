"""Files and folders are written whole or not at all, and never over one that is there."""

from __future__ import annotations

from pathlib import Path

import pytest

from packseq.errors import OutputError
from packseq.files import write_folder, write_whole


def test_a_new_file_is_written_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    write_whole(path, "one\ntwo é\n", force=False)
    assert path.read_bytes() == b"one\ntwo \xc3\xa9\n"
    assert [each.name for each in tmp_path.iterdir()] == ["plan.json"]


def test_an_existing_file_is_kept_unless_forced(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_text("old", encoding="utf-8")
    with pytest.raises(OutputError, match="exists and is kept") as caught:
        write_whole(path, "new", force=False)
    assert caught.value.exit_code == 1
    assert path.read_text(encoding="utf-8") == "old"
    write_whole(path, "new", force=True)
    assert path.read_text(encoding="utf-8") == "new"


def test_a_failed_write_leaves_the_old_file_and_no_litter(tmp_path: Path) -> None:
    path = tmp_path / "plan.json"
    path.write_text("old", encoding="utf-8")
    with pytest.raises(UnicodeEncodeError):
        write_whole(path, "new \ud800", force=True)
    assert path.read_text(encoding="utf-8") == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["plan.json"]


def test_a_folder_that_is_not_there_or_is_in_the_way(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="cannot be written"):
        write_whole(tmp_path / "none" / "plan.json", "new", force=False)
    (tmp_path / "plan.json").mkdir()
    with pytest.raises(OutputError, match="cannot be written"):
        write_whole(tmp_path / "plan.json", "new", force=True)
    assert [each.name for each in tmp_path.iterdir()] == ["plan.json"]


def test_a_folder_is_written_whole(tmp_path: Path) -> None:
    folder = tmp_path / "house"
    write_folder(folder, {"a.csv": "é\n", "b.bin": b"\x00"}, force=False)
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == {
        "a.csv": b"\xc3\xa9\n",
        "b.bin": b"\x00",
    }
    assert [each.name for each in tmp_path.iterdir()] == ["house"]


def test_a_folder_with_something_in_it_is_kept_unless_forced(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="exists and is kept"):
        write_folder(tmp_path, {"a.csv": "new"}, force=False)
    assert [each.name for each in tmp_path.iterdir()] == ["mine.txt"]
    write_folder(tmp_path, {"a.csv": "new"}, force=True)
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a.csv", "mine.txt"]


def test_a_folder_that_fails_half_way_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(UnicodeEncodeError):
        write_folder(tmp_path / "house", {"a.csv": "good", "b.csv": "\ud800"}, force=False)
    with pytest.raises(OutputError, match="cannot be written"):
        write_folder(tmp_path / "none" / "house", {"a.csv": "good"}, force=False)
    assert list(tmp_path.iterdir()) == []
