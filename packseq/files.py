"""Files written whole or not at all."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from packseq.errors import OutputError


def write_whole(path: Path, text: str, *, force: bool) -> None:
    """Write a text file in one go: readers see the old file or the new one, never a part.

    Line ends are written as they are on every system, so the same text is the same bytes.

    Parameters
    ----------
    path
        The file to write. Its folder must exist.
    text
        What to write, as UTF-8.
    force
        Replace an existing file; without it the file is kept.

    Raises
    ------
    OutputError
        When the file exists and `force` is not given, or cannot be written.
    """
    if not force and os.path.lexists(path):
        raise OutputError(f"{path}: exists and is kept; say --force to replace it")
    # In the same folder, because a file can be replaced in one step only within one file system.
    part = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
    try:
        with part.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error
    except BaseException:
        part.unlink(missing_ok=True)
        raise
