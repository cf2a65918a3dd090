"""Files are written whole or not at all, and never over one that is there."""

from __future__ import annotations

from pathlib import Path

import pytest

from packseq.errors import OutputError
from packseq.files import write_whole


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
