"""Files and folders written whole or not at all."""

from __future__ import annotations

import os
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path

from packseq.errors import OutputError


def write_whole(path: Path, content: str | bytes, *, force: bool) -> None:
    """Write a file in one go: readers see the old file or the new one, never a part.

    Line ends are written as they are on every system, so the same text is the same bytes.

    Parameters
    ----------
    path
        The file to write. Its folder must exist.
    content
        What to write; text is written as UTF-8.
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
        with part.open("xb") as stream:
            stream.write(content.encode() if isinstance(content, str) else content)
            stream.flush()
            os.fsync(stream.fileno())
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def write_folder(folder: Path, files: Mapping[str, str | bytes], *, force: bool) -> None:
    """Write a folder of files in one go: readers see all of them or none.

    Parameters
    ----------
    folder
        The folder to make. The folder it lies in must exist.
    files
        What to write, by file name; text is written as UTF-8.
    force
        Replace files of these names in a folder that exists, each of them whole; what else lies
        there stays. Without it a folder with anything in it is kept as it is.

    Raises
    ------
    OutputError
        When the folder is kept, or something cannot be written.
    """
    if folder.is_dir() and force:
        for name, content in files.items():
            write_whole(folder / name, content, force=True)
        return
    if os.path.lexists(folder) and not (folder.is_dir() and not any(folder.iterdir())):
        raise OutputError(f"{folder}: exists and is kept; say --force to replace its files")
    part = folder.with_name(f".{folder.name}.{secrets.token_hex(4)}.part")
    try:
        part.mkdir()
        for name, content in files.items():
            write_whole(part / name, content, force=False)
        if folder.is_dir():
            folder.rmdir()
        part.replace(folder)
    except OSError as error:
        raise OutputError(f"{folder}: cannot be written ({error.strerror})") from error
    finally:
        shutil.rmtree(part, ignore_errors=True)
