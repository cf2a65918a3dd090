"""Whether a file can be written, asked before the work of filling it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from packseq.errors import OutputError
from packseq.scenario.files import FILES


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
