"""Whether a file can be written, asked before the work of filling it."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Sequence
from pathlib import Path

from packseq.errors import OutputError
from packseq.scenario.files import FILES, TABLE_FILES, TABLES


def refuse_early(path: Path, folder: Path, *, force: bool) -> None:
    """Refuse a file that could not be written when the work is done.

    Parameters
    ----------
    path
        The file to be written.
    folder
        The scenario folder, whose own files are never replaced.
    force
        Whether an existing file may be replaced.

    Raises
    ------
    OutputError
        When the file is to be kept, is a folder, is one of the scenario's own, or its
        folder is missing or cannot be written in.
    """
    if path.is_dir():
        raise OutputError(f"{path}: is a folder")
    if not path.parent.is_dir():
        raise OutputError(f"{path}: there is no folder {path.parent}")
    if path.name.lower() in FILES and path.parent.resolve() == folder.resolve():
        raise OutputError(f"{path}: is one of the scenario's own files")
    if not force and os.path.lexists(path):
        raise OutputError(f"{path}: exists and is kept; say --force to replace it")
    try:
        with tempfile.TemporaryFile(dir=path.parent):
            pass
    except OSError as error:
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error


def refuse_folder_early(folder: Path, names: Sequence[str], *, force: bool) -> None:
    """Refuse a scenario folder that could not be written when the work is done.

    Parameters
    ----------
    folder
        The folder to be written.
    names
        The files to be written in it.
    force
        Whether files of these names may be replaced in a folder that exists.

    Raises
    ------
    OutputError
        When the folder is to be kept, would hold a table twice, or its own folder is missing.
    """
    if not folder.is_dir():
        if os.path.lexists(folder):
            raise OutputError(f"{folder}: is a file, not a folder")
        if not folder.resolve().parent.is_dir():
            raise OutputError(f"{folder}: there is no folder {folder.parent}")
        return
    if not force and any(folder.iterdir()):
        raise OutputError(f"{folder}: exists and is kept; say --force to replace its files")
    twice = [name for name in (*TABLE_FILES, TABLES) if name not in names and os.path.lexists(folder / name)]
    if twice:
        raise OutputError(
            f"{folder}: has {', '.join(twice)}, which would tell the same twice; name another folder"
        )
